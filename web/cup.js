// Draws a cup with what is in it, and the card that its paint was drawn down on. Shares and colours are the server's
// (/api/look); here they only get their place.
import { make } from "./draw.js";

const TOP = 14;
const FOOT = 150;
// What has no colour of its own is hatched.
const HATCHES = { "clear base": "cup-hatch", reducer: "cup-hatch thin" };

/** Left and right wall of the cup at a height. */
function walls(y) {
    const lean = ((FOOT - y) / (FOOT - TOP)) * 13;
    return [27 - lean, 93 + lean];
}

/**
 * A cup in section.
 * @param {object} pot  a pot of the model
 * @param {boolean} marked  whether what lies in it is written beside it
 */
export function cup(pot, marked) {
    let foot = FOOT;
    const fill = [];
    const marks = [];
    const height = (FOOT - TOP) * 0.86;
    for (const part of pot.cup ?? []) {
        const top = foot - part.share * height;
        fill.push(layer(part, top, foot));
        if (marked) marks.push(mark(part, top, foot));
        foot = top;
    }
    const [left, right] = walls(TOP);
    const [foot_left, foot_right] = walls(FOOT);
    return make(
        "svg:svg",
        {
            class: marked ? "cup marked" : "cup",
            viewBox: marked ? "0 0 250 160" : "8 6 104 152",
            "aria-hidden": "true",
        },
        fill,
        make("svg:path", {
            class: "cup-wall",
            d: `M${left - 4} ${TOP - 4} L${left} ${TOP} L${foot_left} ${FOOT} H${foot_right} L${right} ${TOP} L${right + 4} ${TOP - 4}`,
        }),
        spread(marks),
    );
}

function layer(part, top, foot) {
    const [a, b] = walls(top);
    const [c, d] = walls(foot);
    const shape = `M${a} ${top} H${b} L${d} ${foot} H${c} Z`;
    const clear = HATCHES[part.what];
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

function mark(part, top, foot) {
    return { words: `${Math.round(part.share * 100)} % ${part.what}`, at: (top + foot) / 2, level: (top + foot) / 2 };
}

/** Words beside the cup, pushed apart where layers are thin. */
function spread(marks) {
    for (let i = 1; i < marks.length; ++i) marks[i].at = Math.min(marks[i].at, marks[i - 1].at - 17);
    return marks.map(({ words, at, level }) => {
        const edge = walls(level)[1];
        return [
            make("svg:path", { class: "cup-tick", d: `M${edge - 5} ${level} H${edge + 3} L118 ${at}` }),
            make("svg:text", { x: 122, y: at + 5, class: "cup-words", "font-size": 14 }, words),
        ];
    });
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
