// The pots: every mix of the job as a cup, and the one in hand with what turns it: ratio, extension, reducer, white cut
// (pots of /api/look; /api/change; paints to pour from /api/shelf).
import { card, cup, marked_cup } from "./cup.js";
import { draw, make } from "./draw.js";
import { change, job, on, pick } from "./job.js";
import { name_field, stepper } from "./stepper.js";
import { wheel } from "./wheel.js";

/** Draws the zone and keeps it true. */
export function start_pots() {
    on("opened model picked", show);
    show();
}

function show() {
    const place = document.getElementById("pots");
    const pots = job.model?.pots ?? [];
    if (!job.file) {
        draw(place, make("h2", {}, "Pots"), make("p", { class: "empty" }, "The job's mixes stand here as cups."));
        return;
    }
    const held = pots.find((pot) => pot.name === job.pot);
    draw(
        place,
        make("h2", {}, "Pots"),
        make(
            "div",
            { class: "shelf", role: "group", "aria-label": "Mixes of this job" },
            pots.map((pot) => small_cup(pot, pot === held)),
            make(
                "button",
                { class: "small-cup new", "data-key": "new-pot", "aria-label": "new pot", onclick: add_pot },
                make("span", { class: "plus", "aria-hidden": "true" }, "+"),
                make("span", {}, "new"),
            ),
        ),
        pots.length === 0 && make("p", { class: "empty" }, "No pot yet. Touch “new” and pour paints into it."),
        held && in_hand(held),
    );
}

function small_cup(pot, held) {
    return make(
        "button",
        {
            class: "small-cup",
            "data-key": `pot ${pot.name}`,
            "aria-pressed": String(held),
            onclick: () => pick({ pot: pot.name }),
        },
        cup(pot),
        make("span", {}, pot.ratio_at ? "middle" : pot.name),
        pot.ratio_at ? make("span", { class: "unseen" }, ` of ${job.model.coats[pot.coat]?.name}`) : null,
    );
}

function in_hand(pot) {
    const at = pot.at;
    const of = (name, key, step) =>
        stepper({
            at: `${at}.${key}`,
            name,
            whose: pot.name,
            value: pot[key],
            field: `${pot.ratio_at ? "fade" : "mix"}.${key}`,
            step,
            none: "none",
        });
    return make(
        "div",
        { class: "in-hand", "data-key": "in hand" },
        pot.ratio_at ? make("h3", {}, pot.name) : name_field(pot.name, "the pot", (to) => [{ rename: pot.at, to }]),
        pot.parts.length === 2 ? wheel(pot) : null,
        marked_cup(pot),
        !pot.ratio_at &&
            make(
                "div",
                { class: "parts", role: "group", "aria-label": `Parts of ${pot.name}` },
                pot.parts.map((part) => part_line(pot, part)),
                pour(pot),
            ),
        make(
            "div",
            { class: "turns" },
            of("extend", "extend", 0.5),
            of("reduce", "reduce", 2),
            !pot.ratio_at && of("white cut", "white_cut", 5),
        ),
        card(pot, job.model.panel?.ground ?? { name: "the ground", colour: "none" }),
        make(
            "ul",
            { class: "words" },
            (pot.words ?? []).map((words) => make("li", {}, words)),
        ),
        !pot.ratio_at &&
            make(
                "button",
                {
                    "data-key": "pot away",
                    onclick: () => change([{ take_out: pot.at }], `pot ${pot.name} taken away`),
                },
                "Take this pot away",
            ),
    );
}

function part_line(pot, part) {
    const at = `${pot.at}.parts.${part.what}`;
    return make(
        "div",
        { class: "part", "data-key": at },
        make(
            "svg:svg",
            { class: "chip", viewBox: "0 0 20 20", "aria-hidden": "true" },
            make("svg:rect", { width: 20, height: 20, fill: part.colour ?? "none" }),
        ),
        stepper({
            at,
            name: part.title || part.what,
            whose: pot.name,
            value: part.parts,
            field: "mix.parts",
            step: part.parts < 1 ? 0.1 : part.parts <= 3 ? 0.5 : 1,
        }),
        pot.parts.length > 1 &&
            make(
                "button",
                {
                    class: "out",
                    "data-key": `${at}.out`,
                    "aria-label": `Take ${part.title || part.what} out of ${pot.name}`,
                    onclick: () => change([{ take_out: at }], `${pot.name}: ${part.what} taken out`),
                },
                "×",
            ),
    );
}

/** What can still be poured in: other mixes of the job, and the shelf. */
function pour(pot) {
    const held = new Set([pot.name, ...pot.parts.map((part) => part.what)]);
    const mixes = job.model.pots.filter((each) => !held.has(each.name));
    const paints = (job.shelf?.paints ?? []).filter((paint) => !held.has(paint.name));
    return make(
        "label",
        { class: "pour" },
        make("span", { class: "unseen" }, `Pour into ${pot.name}`),
        make(
            "select",
            {
                "data-key": `${pot.at}.pour`,
                value: "",
                onchange: (event) => pour_in(pot, event.target),
            },
            make("option", { value: "" }, "Pour in …"),
            make(
                "optgroup",
                { label: "pots of this job" },
                mixes.map((each) => make("option", { value: each.name }, each.name)),
            ),
            make(
                "optgroup",
                { label: "the shelf" },
                paints.map((paint) => make("option", { value: paint.name }, paint.title)),
            ),
        ),
    );
}

function pour_in(pot, select) {
    const what = select.value;
    select.value = "";
    if (what) change([{ set: `${pot.at}.parts.${what}`, to: "1" }], `${pot.name}: 1 part of ${what} poured in`);
}

async function add_pot() {
    const pots = job.model?.pots ?? [];
    const names = new Set(pots.map((pot) => pot.name));
    let number = pots.length + 1;
    while (names.has(`pot-${number}`)) ++number;
    const name = `pot-${number}`;
    const like = pots.find((pot) => pot.name === job.pot);
    if (await change([{ add: `mixes.${name}`, like: like?.at ?? null }], `${name} stood on the bench`))
        pick({ pot: name });
}
