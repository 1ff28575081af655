// The mixes of the job, each as a mixing cup, and the selected one with its controls: ratio, clear base, reducer, white
// (mixes of /api/model; /api/edit; paints to add from /api/library).
import { ratio_dial } from "./dial.js";
import { make, render } from "./dom.js";
import { edit_plan, job, on, select } from "./job.js";
import { drawdown_card, labelled_cup, mix_cup } from "./mix_cup.js";
import { name_field, stepper } from "./stepper.js";

/** Draws the zone and keeps it up to date. */
export function start_mixes() {
    on("opened model selection", show);
    show();
}

function show() {
    const container = document.getElementById("mixes");
    const mixes = job.model?.mixes ?? [];
    if (!job.file) {
        render(container, make("h2", {}, "Mixes"), make("p", { class: "empty" }, "The job's mixes appear here."));
        return;
    }
    const selected = mixes.find((mix) => mix.name === job.mix);
    render(
        container,
        make("h2", {}, "Mixes"),
        make(
            "div",
            { class: "mix-list", role: "group", "aria-label": "Mixes of this job" },
            mixes.map((mix) => mix_button(mix, mix === selected)),
            make(
                "button",
                { class: "mix-button new", "data-key": "new-mix", "aria-label": "New mix", onclick: add_mix },
                make("span", { class: "plus", "aria-hidden": "true" }, "+"),
                make("span", {}, "New"),
            ),
        ),
        mixes.length === 0 && make("p", { class: "empty" }, "No mixes yet. Press New and add paints."),
        selected && selected_mix(selected),
    );
}

function mix_button(mix, selected) {
    return make(
        "button",
        {
            class: "mix-button",
            "data-key": `mix ${mix.name}`,
            "aria-pressed": String(selected),
            onclick: () => select({ mix: mix.name }),
        },
        mix_cup(mix),
        make("span", {}, mix.ratio_key ? "mid colour" : mix.name),
        mix.ratio_key
            ? make("span", { class: "visually-hidden" }, ` of ${job.model.coats[mix.coat]?.name}`)
            : null,
    );
}

function selected_mix(mix) {
    const control = (name, note, key, step) =>
        stepper({
            key: `${mix.key}.${key}`,
            name,
            note,
            owner: mix.name,
            value: mix[key],
            field: `${mix.ratio_key ? "fade" : "mix"}.${key}`,
            step,
            placeholder: "none",
        });
    return make(
        "div",
        { class: "selected-mix", "data-key": "selected mix" },
        mix.ratio_key
            ? make("h3", {}, mix.name)
            : name_field(mix.name, "the mix", (name) => [{ rename: mix.key, to: name }]),
        mix.parts.length === 2 ? ratio_dial(mix) : null,
        labelled_cup(mix),
        !mix.ratio_key &&
            make(
                "div",
                { class: "parts", role: "group", "aria-label": `Parts of ${mix.name}` },
                mix.parts.map((part) => part_row(mix, part)),
                add_paint_menu(mix),
            ),
        make(
            "div",
            { class: "steppers" },
            control("extend", "clear base to 1", "extend", 0.5),
            control("reduce", "% of paint", "reduce", 2),
            !mix.ratio_key && control("white cut", "% white", "white_cut", 5),
        ),
        drawdown_card(mix, job.model.panel?.ground ?? { name: "the ground", colour: "none" }),
        make(
            "ul",
            { class: "notes" },
            (mix.notes ?? []).map((note) => make("li", {}, note)),
        ),
        !mix.ratio_key &&
            make(
                "button",
                {
                    "data-key": "delete-mix",
                    onclick: () => edit_plan([{ delete: mix.key }], `mix ${mix.name} deleted`),
                },
                "Delete mix",
            ),
    );
}

function part_row(mix, part) {
    const key = `${mix.key}.parts.${part.name}`;
    const title = part.title || part.name;
    return make(
        "div",
        { class: "part", "data-key": key },
        make(
            "svg:svg",
            { class: "swatch", viewBox: "0 0 20 20", "aria-hidden": "true" },
            make("svg:rect", { width: 20, height: 20, fill: part.colour ?? "none" }),
        ),
        stepper({
            key,
            name: title,
            owner: mix.name,
            value: part.parts,
            field: "mix.parts",
            step: part.parts < 1 ? 0.1 : part.parts <= 3 ? 0.5 : 1,
        }),
        mix.parts.length > 1 &&
            make(
                "button",
                {
                    class: "remove",
                    "data-key": `${key}.remove`,
                    "aria-label": `Remove ${title} from ${mix.name}`,
                    onclick: () => edit_plan([{ delete: key }], `${mix.name}: ${part.name} removed`),
                },
                "×",
            ),
    );
}

/** What can be added to a mix: other mixes of the job, and paints from the library. */
function add_paint_menu(mix) {
    const used = new Set([mix.name, ...mix.parts.map((part) => part.name)]);
    const mixes = job.model.mixes.filter((each) => !used.has(each.name));
    const paints = (job.library?.paints ?? []).filter((paint) => !used.has(paint.name));
    return make(
        "label",
        { class: "add-paint" },
        make("span", { class: "visually-hidden" }, `Add paint to ${mix.name}`),
        make(
            "select",
            {
                "data-key": `${mix.key}.add-paint`,
                value: "",
                onchange: (event) => add_paint(mix, event.target),
            },
            make("option", { value: "" }, "Add paint …"),
            make(
                "optgroup",
                { label: "mixes of this job" },
                mixes.map((each) => make("option", { value: each.name }, each.name)),
            ),
            make(
                "optgroup",
                { label: "library" },
                paints.map((paint) => make("option", { value: paint.name }, paint.title)),
            ),
        ),
    );
}

function add_paint(mix, menu) {
    const paint = menu.value;
    menu.value = "";
    if (paint) edit_plan([{ set: `${mix.key}.parts.${paint}`, to: "1" }], `${mix.name}: 1 part of ${paint} added`);
}

async function add_mix() {
    const mixes = job.model?.mixes ?? [];
    const names = new Set(mixes.map((mix) => mix.name));
    let number = mixes.length + 1;
    while (names.has(`mix-${number}`)) ++number;
    const name = `mix-${number}`;
    const original = mixes.find((mix) => mix.name === job.mix);
    if (await edit_plan([{ add: `mixes.${name}`, copy_of: original?.key ?? null }], `${name} added`))
        select({ mix: name });
}
