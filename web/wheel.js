// The ratio wheel of a pot with two parts: one stop for each usual ratio, and one for the ratio that is in the cup now.
// While it turns the picture follows (/api/change with drafts); let go, and it is in the plan.
import { make } from "./draw.js";
import { change } from "./job.js";
import { drag } from "./sight.js";

const USUAL = [
    [4, 1],
    [3, 1],
    [2, 1],
    [3, 2],
    [1, 1],
    [2, 3],
    [1, 2],
    [1, 3],
    [1, 4],
];

/** The wheel of a pot of the model. */
export function wheel(pot) {
    const [first, second] = pot.parts;
    const stops = with_now(first.parts, second.parts);
    const now = stops.findIndex(([a, b]) => same(a, b, first.parts, second.parts));
    const words = ([a, b]) => `${a} : ${b}`;
    const spoken = ([a, b]) => `${a} ${first.what} to ${b} ${second.what}`;
    const changes = ([a, b]) =>
        pot.ratio_at
            ? [{ set: pot.ratio_at, to: String(Number((a / b).toFixed(4))) }]
            : [
                  { set: `${pot.at}.parts.${first.what}`, to: String(a) },
                  { set: `${pot.at}.parts.${second.what}`, to: String(b) },
              ];
    return make(
        "div",
        { class: "wheel", "data-key": "wheel" },
        make(
            "div",
            { class: first.what.length + second.what.length > 16 ? "wheel-ends long" : "wheel-ends" },
            make("span", {}, first.what),
            make("output", {}, words(stops[now])),
            make("span", {}, second.what),
        ),
        make("input", {
            type: "range",
            min: 0,
            max: stops.length - 1,
            step: 1,
            value: now,
            "data-key": "ratio",
            "aria-label": `Ratio of ${pot.name}`,
            "aria-valuetext": spoken(stops[now]),
            oninput: (event) => {
                const stop = stops[event.target.value];
                event.target.setAttribute("aria-valuetext", spoken(stop));
                event.target.parentNode.querySelector("output").textContent = words(stop);
                drag(changes(stop));
            },
            onchange: (event) => {
                const stop = stops[event.target.value];
                if (!same(...stop, first.parts, second.parts)) {
                    change(changes(stop), `${pot.name}: ${words(stops[now])} → ${words(stop)}`);
                }
            },
        }),
        make(
            "div",
            { class: "wheel-stops", "aria-hidden": "true" },
            stops.map(([a, b]) => make("i", { class: a === 1 || b === 1 ? "full" : "" })),
        ),
    );
}

function same(a, b, c, d) {
    return Math.abs(a * d - b * c) < 1e-9 * Math.abs(a * d);
}

function with_now(a, b) {
    if (!(a > 0 && b > 0)) return [[a, b], ...USUAL];
    const stops = USUAL.map((stop) => (same(...stop, a, b) ? [a, b] : stop));
    if (!stops.some((stop) => stop[0] === a && stop[1] === b)) stops.push([a, b]);
    return stops.sort((one, other) => other[0] / other[1] - one[0] / one[1]);
}
