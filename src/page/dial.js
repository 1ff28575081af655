// The ratio dial of a mix with two parts: one stop for each common ratio, and one for the present ratio. While it
// turns the picture follows (/api/edit with drafts); once released, the plan has changed.
import { make } from "./dom.js";
import { edit_plan } from "./job.js";
import { preview_drag } from "./picture.js";

const COMMON_RATIOS = [
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

/** The dial of a mix of the model. */
export function ratio_dial(mix) {
    const [first, second] = mix.parts;
    const stops = ratio_stops(first.parts, second.parts);
    const current = stops.findIndex(([a, b]) => same_ratio(a, b, first.parts, second.parts));
    const ratio_text = ([a, b]) => `${a} : ${b}`;
    const spoken_text = ([a, b]) => `${a} ${first.name} to ${b} ${second.name}`;
    const edits = ([a, b]) =>
        mix.ratio_key
            ? [{ set: mix.ratio_key, to: String(Number((a / b).toFixed(4))) }]
            : [
                  { set: `${mix.key}.parts.${first.name}`, to: String(a) },
                  { set: `${mix.key}.parts.${second.name}`, to: String(b) },
              ];
    return make(
        "div",
        { class: "dial", "data-key": "dial" },
        make(
            "div",
            { class: first.name.length + second.name.length > 16 ? "dial-ends long" : "dial-ends" },
            make("span", {}, first.name),
            make("output", {}, ratio_text(stops[current])),
            make("span", {}, second.name),
        ),
        make("input", {
            type: "range",
            min: 0,
            max: stops.length - 1,
            step: 1,
            value: current,
            "data-key": "ratio",
            "aria-label": `Ratio of ${mix.name}`,
            "aria-valuetext": spoken_text(stops[current]),
            oninput: (event) => {
                const stop = stops[event.target.value];
                event.target.setAttribute("aria-valuetext", spoken_text(stop));
                event.target.parentNode.querySelector("output").textContent = ratio_text(stop);
                preview_drag(edits(stop));
            },
            onchange: (event) => {
                const stop = stops[event.target.value];
                if (!same_ratio(...stop, first.parts, second.parts)) {
                    edit_plan(edits(stop), `${mix.name}: ${ratio_text(stops[current])} → ${ratio_text(stop)}`);
                }
            },
        }),
        make(
            "div",
            { class: "dial-stops", "aria-hidden": "true" },
            stops.map(([a, b]) => make("i", { class: a === 1 || b === 1 ? "major" : "" })),
        ),
    );
}

function same_ratio(a, b, c, d) {
    return Math.abs(a * d - b * c) < 1e-9 * Math.abs(a * d);
}

function ratio_stops(a, b) {
    if (!(a > 0 && b > 0)) return [[a, b], ...COMMON_RATIOS];
    const stops = COMMON_RATIOS.map((stop) => (same_ratio(...stop, a, b) ? [a, b] : stop));
    if (!stops.some((stop) => stop[0] === a && stop[1] === b)) stops.push([a, b]);
    return stops.sort((p, q) => q[0] / q[1] - p[0] / p[1]);
}
