// The coat in hand: what it is laid with, how thick, how its fade is made; earlier, later, lifted out, taken away
// (coats of /api/look, choices of /api/fields and /api/shelf).
import { make } from "./draw.js";
import { change, job, PIECE, pick } from "./job.js";
import { piece_card } from "./piece.js";
import { choice, field, name_field, stepper } from "./stepper.js";
import { lift, move_coat } from "./strip.js";
import { show_ways } from "./ways.js";

let wide_open = innerHeight >= 900;

/** The coat in hand as a small card, or the piece itself; null if there is neither. */
export function coat_card() {
    const index = job.coat;
    const coats = job.model?.coats ?? [];
    if (index === PIECE) return piece_card();
    const coat = coats[index];
    if (!coat) return null;
    const first_fade = coats.find(({ fade }) => fade);  // the one that the server judges
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
        name_field(coat.name, "the coat", (to) => [{ set: `${coat.at}.name`, to: JSON.stringify(to) }]),
        make("div", { class: "lines-of-coat" }, coat.fade ? fade_lines(coat) : plain_lines(coat)),
        make(
            "ul",
            { class: "words" },
            (coat.words ?? []).map((words) => make("li", {}, words)),
        ),
        make(
            "div",
            { class: "row", role: "group", "aria-label": `Coat ${coat.name}` },
            first_fade === coat && act("ways", "Other ways", true, () => show_ways(coat)),
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
        ["pots of this job", job.model.pots.filter((pot) => !pot.ratio_at).map((pot) => [pot.name, pot.name])],
        ["the shelf", (job.shelf?.paints ?? []).map((paint) => [paint.name, paint.title])],
    ];
}

function plain_lines(coat) {
    const guns = [["", (job.shelf?.guns ?? []).map((gun) => [gun.name, gun.title])]];
    return [
        choice({ at: `${coat.at}.mix`, name: "mix", whose: coat.name, value: coat.mix }, mixes()),
        coat.kind === "even"
            ? film(coat, `${coat.at}.cover.film`, coat.cover_film, "cover.film")
            : choice({ at: `${coat.at}.gun`, name: "gun", whose: coat.name, value: coat.gun }, guns),
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
        choice({ at: `${fade.at}.from`, name: "from", whose: coat.name, value: fade.from }, mixes()),
        choice({ at: `${fade.at}.to`, name: "to", whose: coat.name, value: fade.to }, mixes()),
        choice({ at: `${fade.at}.method`, name: "made", whose: coat.name, value: fade.method }, [["", methods]]),
        film(coat, `${fade.at}.film`, fade.film ?? null, "fade.film"),
        turn("middles", "middles", 1),
        has_cup(coat) ? null : turn("extend", "extend", 0.5),
        fade.start ? null : turn("width", "width", { mm: 10, cm: 1, m: 0.01, in: 0.5 }),
    ];
}

/** Whether its middle stands among the pots, where it is turned. */
function has_cup(coat) {
    return job.model.pots.some((pot) => pot.ratio_at?.startsWith(`${coat.at}.`));
}

function film(coat, at, value, in_schema) {
    return stepper({
        at,
        name: "film",
        whose: coat.name,
        value,
        field: in_schema,
        step: { um: 1, mm: 0.001, mil: 0.1 },
    });
}
