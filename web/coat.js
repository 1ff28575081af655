// The coat in hand: what it is laid with, how thick, how its fade is made; earlier, later, lifted out, taken away
// (coats of /api/look, choices of /api/fields and /api/shelf).
import { make } from "./draw.js";
import { change, job, pick } from "./job.js";
import { field, stepper } from "./stepper.js";
import { lift, move_coat } from "./strip.js";

let wide_open = innerHeight >= 900;

/** The coat in hand as a small card; null if there is none. */
export function coat_card() {
    const index = job.coat;
    const coats = job.model?.coats ?? [];
    const coat = coats[index];
    if (!coat) return null;
    const out = job.look.without.includes(index);
    const act = (key, name, on, does) =>
        make("button", { "data-key": `coat ${key}`, disabled: !on, onclick: does }, name);
    return make(
        "details",
        {
            class: "coat-card",
            "data-key": "coat card",
            open: wide_open,
            ontoggle: (event) => {
                wide_open = event.target.open;
            },
        },
        make("summary", {}, make("h3", {}, `Coat ${index + 1}: ${coat.name}`), make("span", {}, summary(coat))),
        make("div", { class: "lines-of-coat" }, coat.fade ? fade_lines(coat) : plain_lines(coat)),
        make(
            "ul",
            { class: "words" },
            (coat.words ?? []).map((words) => make("li", {}, words)),
        ),
        make(
            "div",
            { class: "row", role: "group", "aria-label": `Coat ${coat.name}` },
            act("earlier", "Earlier", index > 0, () => move_coat(index, index - 1)),
            act("later", "Later", index + 1 < coats.length, () => move_coat(index, index + 1)),
            act("lift", out ? "Lay back" : "Lift out", true, () => lift(index)),
            act("away", "Take away", true, () => take_away(coat)),
        ),
    );
}

function summary({ fade, mix, film }) {
    const of_what = fade ? `${fade.from} to ${fade.to}, ${fade.method}` : mix;
    return [of_what, film].filter(Boolean).join(", ");
}

async function take_away(coat) {
    job.look.without = [];
    if (await change([{ take_out: coat.at }], `${coat.name} taken away`))
        pick({ coat: Math.max(0, job.coat - 1), pass: 0 });
}

function mixes() {
    return [
        ["pots of this job", (job.model.pots ?? []).map((pot) => [pot.name, pot.name])],
        ["the shelf", (job.shelf?.paints ?? []).map((paint) => [paint.name, paint.title])],
    ];
}

function plain_lines(coat) {
    const guns = [["", (job.shelf?.guns ?? []).map((gun) => [gun.name, gun.title])]];
    return [
        choice(coat, `${coat.at}.mix`, "mix", coat.mix, mixes()),
        coat.kind === "even"
            ? film(coat, `${coat.at}.cover.film`, coat.cover_film, "cover.film")
            : choice(coat, `${coat.at}.gun`, "gun", coat.gun, guns),
    ];
}

function fade_lines(coat) {
    const { fade } = coat;
    const methods = (field("fade.method")?.choices ?? [fade.method]).map((each) => [each, each]);
    const turn = (key, name, step) =>
        stepper({
            at: `${fade.at}.${key}`,
            name,
            whose: coat.name,
            value: fade[key] ?? null,
            field: `fade.${key}`,
            step,
            none: "as usual",
        });
    return [
        choice(coat, `${fade.at}.from`, "from", fade.from, mixes()),
        choice(coat, `${fade.at}.to`, "to", fade.to, mixes()),
        choice(coat, `${fade.at}.method`, "made", fade.method, [["", methods]]),
        film(coat, `${fade.at}.film`, fade.film ?? null, "fade.film"),
        turn("middles", "middles", 1),
        has_cup(coat) ? null : turn("extend", "extend", 0.5),
        fade.start ? null : turn("width", "width", 10),
    ];
}

/** Whether its middle stands among the pots, where it is turned. */
function has_cup(coat) {
    return job.model.pots.some((pot) => pot.ratio_at?.startsWith(`${coat.at}.`));
}

function film(coat, at, value, in_schema) {
    return stepper({ at, name: "film", whose: coat.name, value, field: in_schema, step: 1 });
}

function choice(coat, at, name, value, groups) {
    const option = ([to, words]) => make("option", { value: to, selected: to === value }, words);
    return make(
        "label",
        { class: "line", "data-key": at },
        make("span", {}, name),
        make(
            "select",
            {
                "data-key": `${at}.choice`,
                value: value ?? "",
                "aria-label": `${name} of ${coat.name}`,
                onchange: (event) =>
                    change(
                        [{ set: at, to: JSON.stringify(event.target.value) }],
                        `${coat.name}: ${name} ${value ?? "none"} → ${event.target.value}`,
                    ),
            },
            value ? null : make("option", { value: "" }, "choose"),
            groups.map(([label, options]) =>
                label ? make("optgroup", { label }, options.map(option)) : options.map(option),
            ),
        ),
    );
}
