// The row of view settings: light, viewing angle, display shape, display mode, without clear, cross-section; and the
// button that saves the present version. Lights and shapes come from /api/library; every setting goes into the next
// /api/picture.
import { make, render } from "./dom.js";
import { job, on, set_view } from "./job.js";
import { save_version } from "./versions.js";

// Aspecular angles of multi-angle instruments; face and flop are a painter's names of two of them.
const VIEWING_ANGLES = [
    ["-15 deg", "−15°"],
    ["15 deg", "15° near-specular"],
    ["25 deg", "25°"],
    ["45 deg", "45° face"],
    ["75 deg", "75°"],
    ["110 deg", "110° flop"],
];
const OVERLAYS = [
    ["", "Finish"],
    ["film", "Film build of selected coat"],
    ["defects", "Defects"],
    ["graininess", "Graininess"],
];

/** Draws the row and keeps it up to date. */
export function start_view_controls() {
    on("opened model view", show);
}

function show() {
    const { library, model } = job;
    const lights = (library?.lights ?? []).map((light) => [light.name, light.title]);
    const shapes = (library?.shapes ?? ["panel"]).map((name) => [
        name,
        name === "panel" ? "this panel" : name.replaceAll("-", " "),
    ]);
    render(
        document.getElementById("view-controls"),
        select_control("light", "Light", lights, job.view.light ?? model?.view?.light),
        select_control("angle", "Viewing angle", VIEWING_ANGLES, job.view.angle ?? angle_of_plan()),
        select_control("shape", "Shape", shapes, job.view.shape),
        select_control("overlay", "Display", OVERLAYS, job.view.overlay ?? ""),
        toggle("without_clear", "Without clear"),
        toggle("section_open", "Cross-section"),
        make(
            "button",
            { class: "save-version", "data-key": "save-version", onclick: save_version, disabled: !model },
            "Save this version",
        ),
    );
}

function select_control(key, name, options, value) {
    return make(
        "label",
        { class: "view-control", "data-key": key },
        make("span", {}, name),
        make(
            "select",
            {
                "data-key": `${key}.select`,
                value,
                onchange: (event) => set_view({ [key]: event.target.value || null }),
            },
            options.map(([option, label]) => make("option", { value: option, selected: option === value }, label)),
        ),
    );
}

function toggle(key, name) {
    return make(
        "button",
        { "data-key": key, "aria-pressed": String(job.view[key]), onclick: () => set_view({ [key]: !job.view[key] }) },
        name,
    );
}

function angle_of_plan() {
    const degrees = parseFloat(job.model?.view?.angle ?? "45");
    return VIEWING_ANGLES.find(([angle]) => parseFloat(angle) === degrees)?.[0] ?? "45 deg";
}
