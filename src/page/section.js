// The cross-section under the panel: colour and lightness along the line drawn over the panel, and the film build of
// every coat (/api/section). It follows the line while that is dragged.
import { make, render } from "./dom.js";
import { emit, guard_errors, job, on } from "./job.js";
import { request_json } from "./server.js";
import { length_text } from "./units.js";

const WIDTH = 600;
const COLOUR_HEIGHT = 18;
const PLOT_HEIGHT = 96;
const GREYS = ["#5a5a5a", "#8f8f8f", "#3c3c3c", "#a8a8a8", "#6e6e6e", "#c4c4c4"];
const SELECTED_GREY = "#1c1c1c";

let section = null;
let is_outdated = false;
let busy = false;

/** Draws the section and keeps it up to date. */
export function start_section() {
    on("opened", () => {
        section = null;
    });
    on("model view section_line", fetch_section);
    on("model view selection", show);
}

async function fetch_section() {
    is_outdated = true;
    if (busy) return;
    busy = true;
    while (is_outdated) {
        is_outdated = false;
        if (!job.view.section_open || !job.model?.valid) break;
        const line = job.view.section_line;
        const body = { file: job.file, text: job.text, units: job.units, ...line };
        const answer = await guard_errors(() => request_json("/api/section", body, "section"));
        if (!answer) break;
        section = answer;
        if (!line && job.view.section_open && !job.view.section_line) {
            job.view.section_line = { from: answer.from, to: answer.to };
            emit("selection");
        }
        show();
    }
    busy = false;
}

function show() {
    const container = document.getElementById("section");
    if (!container) return;
    if (!job.view.section_open) render(container);
    else render(container, section ? plot(section) : make("p", { class: "empty" }, "Working out the section …"));
}

function plot({ at_mm, L, colours, films, width }) {
    const length_mm = at_mm[at_mm.length - 1] || 1;
    const x = (i) => (at_mm[i] / length_mm) * WIDTH;
    const max_um = Math.max(1e-9, ...at_mm.map((_, i) => films.reduce((sum, film) => sum + film.um[i], 0)));
    const max_L = Math.max(100, ...L);
    const line = L.map(
        (value, i) =>
            `${i ? "L" : "M"}${x(i).toFixed(1)} ${(PLOT_HEIGHT - (value / max_L) * (PLOT_HEIGHT - 8)).toFixed(1)}`,
    ).join("");
    return [
        make(
            "svg:svg",
            {
                viewBox: `0 0 ${WIDTH} ${PLOT_HEIGHT + COLOUR_HEIGHT + 2}`,
                preserveAspectRatio: "none",
                role: "img",
                "aria-label": `Cross-section: ${width ?? ""}`,
            },
            stacked_films(films, at_mm, x, max_um),
            make("svg:path", { d: line, class: "lightness-outline" }),
            make("svg:path", { d: line, class: "lightness" }),
            colours.map((colour, i) =>
                make("svg:rect", {
                    x: x(i).toFixed(1),
                    y: PLOT_HEIGHT + 2,
                    width: ((i + 1 < colours.length ? x(i + 1) - x(i) : 4) + 0.5).toFixed(1),
                    height: COLOUR_HEIGHT,
                    fill: colour,
                }),
            ),
        ),
        make(
            "figcaption",
            {},
            make(
                "span",
                {},
                `0 to ${length_text(length_mm, job.units)} · line: lightness L* · areas: film build of each coat`,
            ),
            make("span", {}, width ?? ""),
        ),
    ];
}

/** The films as areas on top of each other, the selected coat the darkest. */
function stacked_films(films, at_mm, x, max_um) {
    const base_um = at_mm.map(() => 0);
    const y = (um) => (PLOT_HEIGHT - (um / max_um) * (PLOT_HEIGHT - 8)).toFixed(1);
    return films.map((film) => {
        const lower_edge = base_um
            .map((um, i) => `L${x(i).toFixed(1)} ${y(um)}`)
            .reverse()
            .join("");
        film.um.forEach((um, i) => {
            base_um[i] += um;
        });
        const upper_edge = base_um.map((um, i) => `${i ? "L" : "M"}${x(i).toFixed(1)} ${y(um)}`).join("");
        return make(
            "svg:path",
            {
                d: `${upper_edge}${lower_edge}Z`,
                fill: film.coat === job.coat ? SELECTED_GREY : GREYS[film.coat % GREYS.length],
                class: "film",
            },
            make("svg:title", {}, film.name),
        );
    });
}
