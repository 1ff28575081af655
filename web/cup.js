// Draws a cup with what is in it, and the card that its paint was drawn down on. Shares and colours are the server's
// (/api/look); here they only get their place.
import { make } from "./draw.js";
import { job } from "./job.js";

const TOP = 14;
const FOOT = 150;
// What has no colour of its own is hatched.
const KINDS = { clear: "clear base", "clear base": "clear base", reducer: "reducer" };
const HATCHES = { "clear base": "cup-hatch", reducer: "cup-hatch thin" };

/** Left and right wall of the cup at a height. */
function walls(y) {
    const lean = ((FOOT - y) / (FOOT - TOP)) * 13;
    return [27 - lean, 93 + lean];
}

/** The paint in a layer has no colour: the class of its hatching, or nothing. */
function hatching(what) {
    const paint = job.shelf?.paints.find((each) => each.name === what);
    return HATCHES[what] ?? HATCHES[KINDS[paint?.kind]];
}

/**
 * A cup in section.
 * @param {object} pot  a pot of the model
 */
export function cup(pot) {
    let foot = FOOT;
    const height = (FOOT - TOP) * 0.86;
    const fill = (pot.cup ?? []).map((part) => {
        const below = foot;
        foot -= part.share * height;
        return layer(part, foot, below);
    });
    const [left, right] = walls(TOP);
    const [foot_left, foot_right] = walls(FOOT);
    const wall = `M${left - 4} ${TOP - 4} L${left} ${TOP} L${foot_left} ${FOOT} H${foot_right} L${right} ${TOP} L${right + 4} ${TOP - 4}`;
    return make(
        "svg:svg",
        { class: "cup", viewBox: "8 6 104 152", "aria-hidden": "true" },
        fill,
        make("svg:path", { class: "cup-wall", d: wall }),
    );
}

/** The cup with a list of what lies in it, from the top down as it lies. */
export function marked_cup(pot) {
    const lines = [...(pot.cup ?? [])].reverse().map(({ what, share, colour }) => {
        const clear = hatching(what);
        return make(
            "li",
            {},
            make(
                "svg:svg",
                { class: "chip", viewBox: "0 0 20 20", "aria-hidden": "true" },
                make("svg:rect", {
                    width: 20,
                    height: 20,
                    fill: clear ? "none" : (colour ?? "none"),
                    class: "cup-layer",
                }),
                clear && make("svg:path", { d: "M3 20 L6 0 M10 20 L13 0 M17 20 L20 0", class: clear }),
            ),
            `${(100 * share).toFixed(share < 0.095 ? 1 : 0)} % ${what}`,
        );
    });
    return make(
        "div",
        { class: "marked" },
        cup(pot),
        make("ol", { "aria-label": `In the cup of ${pot.name}, from the top` }, lines),
    );
}

function layer(part, top, foot) {
    const [a, b] = walls(top);
    const [c, d] = walls(foot);
    const shape = `M${a} ${top} H${b} L${d} ${foot} H${c} Z`;
    const clear = hatching(part.what);
    return [
        make("svg:path", { d: shape, fill: clear ? "none" : (part.colour ?? "none"), class: "cup-layer" }),
        clear ? make("svg:path", { d: hatch(c, d, top, foot), class: clear }) : null,
    ];
}

function hatch(left, right, top, foot) {
    let lines = "";
    for (let x = Math.ceil(left / 9) * 9; x < right - 4; x += 9)
        lines += `M${x} ${foot} L${Math.min(x + 4, right)} ${top}`;
    return lines;
}

/** A drawdown card: the mix over the job's ground, over black and over white, and one coat of it over the ground. */
export function card(pot, ground) {
    const over = [
        [ground.colour, pot.over_ground, 0],
        ["#000000", pot.over_black, 80],
        ["#ffffff", pot.over_white, 160],
    ];
    return make(
        "figure",
        { class: "card" },
        make(
            "svg:svg",
            {
                viewBox: "0 0 240 92",
                role: "img",
                "aria-label": `${pot.name} drawn down over ${ground.name}, black and white`,
            },
            over.map(([under, colour, x]) => [
                make("svg:rect", { x, y: 0, width: 80, height: 92, fill: under }),
                make("svg:rect", { x, y: 12, width: 80, height: x ? 68 : 34, fill: colour ?? under }),
            ]),
            make("svg:rect", { x: 0, y: 46, width: 80, height: 34, fill: pot.one_coat_over_ground ?? ground.colour }),
        ),
        make(
            "figcaption",
            {},
            make("span", {}, "ground", make("br"), "1 coat below"),
            make("span", {}, "black"),
            make("span", {}, "white"),
        ),
    );
}
