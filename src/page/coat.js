// The card of the selected coat: mix, gun, film build, fade method; move, hide and delete it (coats of /api/model,
// choices of /api/schema and /api/library).
import { make } from "./dom.js";
import { edit_plan, job, select, WORKPIECE } from "./job.js";
import { show_methods } from "./methods.js";
import { name_field, schema_field, select_field, stepper } from "./stepper.js";
import { move_coat, toggle_coat } from "./strip.js";
import { workpiece_card } from "./workpiece.js";

const METHOD_LABELS = {
    over: "over",
    under: "under",
    fogged: "fogged from both sides",
    "mid-colours": "mid colours",
    stepped: "stepped",
    glazed: "glazed",
    burst: "sunburst",
};

let expanded = innerHeight >= 900;

/** The selected coat as a small card, or the workpiece; null if neither is selected. */
export function coat_card() {
    const index = job.coat;
    const coats = job.model?.coats ?? [];
    if (index === WORKPIECE) return workpiece_card();
    const coat = coats[index];
    if (!coat) return null;
    const first_fade = coats.find(({ fade }) => fade); // the one that the server assesses
    const hidden = job.view.hidden.includes(index);
    const button = (key, name, enabled, action) =>
        make("button", { "data-key": `coat ${key}`, disabled: !enabled, onclick: action }, name);
    return make(
        "details",
        {
            class: "coat-card",
            "data-key": "coat card",
            open: expanded,
            ontoggle: (event) => {
                expanded = event.target.open;
            },
        },
        make("summary", {}, make("h3", {}, `Coat ${index + 1}: ${coat.name}`), make("span", {}, coat_summary(coat))),
        name_field(coat.name, "the coat", (name) => [{ set: `${coat.key}.name`, to: JSON.stringify(name) }]),
        make("div", { class: "coat-fields" }, coat.fade ? fade_fields(coat) : plain_fields(coat)),
        make(
            "ul",
            { class: "notes" },
            (coat.notes ?? []).map((note) => make("li", {}, note)),
        ),
        make(
            "div",
            { class: "row", role: "group", "aria-label": `Coat ${coat.name}` },
            first_fade === coat && button("methods", "Compare methods", true, () => show_methods(coat)),
            button("earlier", "Move earlier", index > 0, () => move_coat(index, index - 1)),
            button("later", "Move later", index + 1 < coats.length, () => move_coat(index, index + 1)),
            button("hide", hidden ? "Show coat" : "Hide coat", true, () => toggle_coat(index)),
            button("delete", "Delete coat", true, () => delete_coat(coat)),
        ),
    );
}

function coat_summary({ fade, mix, film }) {
    if (!fade) return [mix, film].filter(Boolean).join(", ");
    return [`${fade.from} to ${fade.to}`, method_summary(fade), film && `${film} total`].filter(Boolean).join(", ");
}

function method_summary({ method, mid_colours }) {
    if (method !== "mid-colours" || !mid_colours) return METHOD_LABELS[method] ?? method;
    return mid_colours === 1 ? "1 mid colour" : `${mid_colours} mid colours`;
}

async function delete_coat(coat) {
    job.view.hidden = [];
    if (await edit_plan([{ delete: coat.key }], `${coat.name} deleted`))
        select({ coat: Math.max(0, job.coat - 1), pass: 0 });
}

function mix_options() {
    return [
        ["mixes of this job", job.model.mixes.filter((mix) => !mix.ratio_key).map((mix) => [mix.name, mix.name])],
        ["library", (job.library?.paints ?? []).map((paint) => [paint.name, paint.title])],
    ];
}

function plain_fields(coat) {
    const guns = [["", (job.library?.guns ?? []).map((gun) => [gun.name, gun.title])]];
    return [
        select_field({ key: `${coat.key}.mix`, name: "mix", owner: coat.name, value: coat.mix }, mix_options()),
        coat.kind === "even-coat"
            ? film_stepper(coat, `${coat.key}.even_coat.film`, coat.even_coat_film, "even coat.film")
            : select_field({ key: `${coat.key}.gun`, name: "gun", owner: coat.name, value: coat.gun }, guns),
    ];
}

function fade_fields(coat) {
    const { fade } = coat;
    const methods = (schema_field("fade.method")?.choices ?? [fade.method]).map((method) => [
        method,
        METHOD_LABELS[method] ?? method,
    ]);
    const fade_select = (key, options) =>
        select_field({ key: `${fade.key}.${key}`, name: key, owner: coat.name, value: fade[key] }, options);
    const fade_stepper = (key, name, step) =>
        stepper({
            key: `${fade.key}.${key}`,
            name,
            owner: coat.name,
            value: fade[key] ?? null,
            field: `fade.${key}`,
            step,
            placeholder: "default",
        });
    return [
        fade_select("from", mix_options()),
        fade_select("to", mix_options()),
        fade_select("method", [["", methods]]),
        film_stepper(coat, `${fade.key}.film`, fade.film ?? null, "fade.film"),
        fade_stepper("mid_colours", "mid colours", 1),
        has_mid_colour_mix(coat) ? null : fade_stepper("extend", "extend", 0.5),
        fade.start ? null : fade_stepper("width", "width", { mm: 10, cm: 1, m: 0.01, in: 0.5 }),
    ];
}

/** Whether its mid colour is among the mixes, where its clear base is set. */
function has_mid_colour_mix(coat) {
    return job.model.mixes.some((mix) => mix.ratio_key?.startsWith(`${coat.key}.`));
}

function film_stepper(coat, key, value, field) {
    return stepper({
        key,
        name: "dry film",
        owner: coat.name,
        value,
        field,
        step: { um: 1, mm: 0.001, mil: 0.1 },
    });
}
