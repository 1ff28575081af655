// Draws a mixing cup with its layers, and the drawdown card of its mix. Shares and colours come from the server
// (/api/model); here they are only placed.
import { make } from "./dom.js";
import { job } from "./job.js";

const TOP = 14;
const BOTTOM = 150;
const FULL = 0.86; // of the cup's height
// Materials without a colour of their own are hatched.
const HATCHES = { clear: "cup-hatch", "clear-base": "cup-hatch", reducer: "cup-hatch thin" };
const MATERIAL_KINDS = { "clear base": "clear-base", reducer: "reducer" };

/** Left and right wall of the cup at a height. */
function wall_positions(y) {
    const taper = ((BOTTOM - y) / (BOTTOM - TOP)) * 13;
    return [27 - taper, 93 + taper];
}

/** The class of the hatching of a material without colour, or undefined. */
function hatch_class(name) {
    const paint = job.library?.paints.find((each) => each.name === name);
    return HATCHES[MATERIAL_KINDS[name] ?? paint?.kind];
}

/**
 * A cup in cross-section.
 * @param {object} mix  a mix of the model
 */
export function mix_cup(mix) {
    let top = BOTTOM;
    const height = (BOTTOM - TOP) * FULL;
    const layers = (mix.layers ?? []).map((layer) => {
        const bottom = top;
        top -= layer.share * height;
        return layer_shape(layer, top, bottom);
    });
    const [left, right] = wall_positions(TOP);
    const [bottom_left, bottom_right] = wall_positions(BOTTOM);
    const wall =
        `M${left - 4} ${TOP - 4} L${left} ${TOP} L${bottom_left} ${BOTTOM} ` +
        `H${bottom_right} L${right} ${TOP} L${right + 4} ${TOP - 4}`;
    return make(
        "svg:svg",
        { class: "cup", viewBox: "8 6 104 152", "aria-hidden": "true" },
        layers,
        make("svg:path", { class: "cup-wall", d: wall }),
    );
}

/** The cup with the list of its layers, from the top down. */
export function labelled_cup(mix) {
    const items = [...(mix.layers ?? [])].reverse().map(({ name, share, colour }) => {
        const hatch = hatch_class(name);
        return make(
            "li",
            {},
            make(
                "svg:svg",
                { class: "swatch", viewBox: "0 0 20 20", "aria-hidden": "true" },
                make("svg:rect", {
                    width: 20,
                    height: 20,
                    fill: hatch ? "none" : (colour ?? "none"),
                    class: "cup-layer",
                }),
                hatch && make("svg:path", { d: "M3 20 L6 0 M10 20 L13 0 M17 20 L20 0", class: hatch }),
            ),
            `${(100 * share).toFixed(share < 0.095 ? 1 : 0)} % ${name}`,
        );
    });
    return make(
        "div",
        { class: "labelled-cup" },
        mix_cup(mix),
        make("ol", { "aria-label": `In the cup of ${mix.name}, from the top` }, items),
    );
}

function layer_shape(layer, top, bottom) {
    const [a, b] = wall_positions(top);
    const [c, d] = wall_positions(bottom);
    const shape = `M${a} ${top} H${b} L${d} ${bottom} H${c} Z`;
    const hatch = hatch_class(layer.name);
    return [
        make("svg:path", { d: shape, fill: hatch ? "none" : (layer.colour ?? "none"), class: "cup-layer" }),
        hatch ? make("svg:path", { d: hatch_lines(c, d, top, bottom), class: hatch }) : null,
    ];
}

function hatch_lines(left, right, top, bottom) {
    let lines = "";
    for (let x = Math.ceil(left / 9) * 9; x < right - 4; x += 9)
        lines += `M${x} ${bottom} L${Math.min(x + 4, right)} ${top}`;
    return lines;
}

/** A drawdown card: the mix over the job's ground (three coats above, one coat below), over black and over white. */
export function drawdown_card(mix, ground) {
    const columns = [
        [ground.colour, mix.over_ground, 0],
        ["#000000", mix.over_black, 80],
        ["#ffffff", mix.over_white, 160],
    ];
    return make(
        "figure",
        { class: "drawdown" },
        make(
            "svg:svg",
            {
                viewBox: "0 0 240 92",
                role: "img",
                "aria-label": `${mix.name} drawn down over ${ground.name}, black and white`,
            },
            columns.map(([substrate, colour, x]) => [
                make("svg:rect", { x, y: 0, width: 80, height: 92, fill: substrate }),
                make("svg:rect", { x, y: 12, width: 80, height: x ? 68 : 34, fill: colour ?? substrate }),
            ]),
            make("svg:rect", { x: 0, y: 46, width: 80, height: 34, fill: mix.one_coat_over_ground ?? ground.colour }),
        ),
        make(
            "figcaption",
            {},
            make("span", {}, "over ground", make("br"), "upper: 3 coats", make("br"), "lower: 1 coat"),
            make("span", {}, "over black"),
            make("span", {}, "over white"),
        ),
    );
}
