// The cut through the paint under the panel: the colour along the line that is drawn over the panel, its lightness, and
// the film of every coat (/api/section). It follows the line while that is dragged.
import { draw, make } from "./draw.js";
import { job, on, quietly, tell } from "./job.js";
import { length_text } from "./lengths.js";
import { ask } from "./server.js";

const WIDE = 600;
const BAND = 18;
const PLOT = 96;
const GREYS = ["#5a5a5a", "#8f8f8f", "#3c3c3c", "#a8a8a8", "#6e6e6e", "#c4c4c4"];

let cut = null;
let again = false;
let busy = false;

/** Draws the zone and keeps it true. */
export function start_section() {
    on("opened", () => {
        cut = null;
    });
    on("model look cut", follow);
    on("model look picked", show);
}

async function follow() {
    again = true;
    if (busy) return;
    busy = true;
    while (again) {
        again = false;
        if (!job.look.cutting || !job.model?.good) break;
        const line = job.look.cut;
        const answer = await quietly(() =>
            ask("/api/section", { file: job.file, text: job.text, units: job.units, ...line }, "section"),
        );
        if (!answer) break;
        cut = answer;
        if (!line && job.look.cutting && !job.look.cut) {
            job.look.cut = { from: answer.from, to: answer.to };
            tell("picked");
        }
        show();
    }
    busy = false;
}

function show() {
    const place = document.getElementById("section");
    if (!place) return;
    if (!job.look.cutting) draw(place);
    else draw(place, cut ? plot(cut) : make("p", { class: "empty" }, "Being cut …"));
}

function plot({ at_mm, L, colour, films, words }) {
    const last = at_mm[at_mm.length - 1] || 1;
    const x = (i) => (at_mm[i] / last) * WIDE;
    const most = Math.max(1e-9, ...at_mm.map((_, i) => films.reduce((sum, film) => sum + film.um[i], 0)));
    const light_top = Math.max(100, ...L);
    const line = L.map(
        (value, i) => `${i ? "L" : "M"}${x(i).toFixed(1)} ${(PLOT - (value / light_top) * (PLOT - 8)).toFixed(1)}`,
    ).join("");
    return [
        make(
            "svg:svg",
            {
                viewBox: `0 0 ${WIDE} ${PLOT + BAND + 2}`,
                preserveAspectRatio: "none",
                role: "img",
                "aria-label": `Cut: ${words?.[0] ?? ""}`,
            },
            stacked(films, at_mm, x, most),
            make("svg:path", { d: line, class: "lightness-under" }),
            make("svg:path", { d: line, class: "lightness" }),
            colour.map((each, i) =>
                make("svg:rect", {
                    x: x(i).toFixed(1),
                    y: PLOT + 2,
                    width: ((i + 1 < colour.length ? x(i + 1) - x(i) : 4) + 0.5).toFixed(1),
                    height: BAND,
                    fill: each,
                }),
            ),
        ),
        make(
            "figcaption",
            {},
            make("span", {}, `0 to ${length_text(last, job.units)}: line: lightness · areas: film of each coat`),
            make("span", {}, words?.[0] ?? ""),
        ),
    ];
}

/** The films as areas on top of each other, the coat in hand the darkest. */
function stacked(films, at_mm, x, most) {
    const below = at_mm.map(() => 0);
    const y = (um) => (PLOT - (um / most) * (PLOT - 8)).toFixed(1);
    return films.map((film) => {
        const foot = below
            .map((um, i) => `L${x(i).toFixed(1)} ${y(um)}`)
            .reverse()
            .join("");
        film.um.forEach((um, i) => {
            below[i] += um;
        });
        const top = below.map((um, i) => `${i ? "L" : "M"}${x(i).toFixed(1)} ${y(um)}`).join("");
        return make(
            "svg:path",
            {
                d: `${top}${foot}Z`,
                fill: film.coat === job.coat ? "#1c1c1c" : GREYS[film.coat % GREYS.length],
                class: "film",
            },
            make("svg:title", {}, film.name),
        );
    });
}
