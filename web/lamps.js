// The rail above the bench: how the panel is looked at. Light, side, form, what is shown, before clear, cut through; and
// pinning the present look on the wall (lights and forms of /api/shelf; every choice goes into the next /api/picture).
import { draw, make } from "./draw.js";
import { job, look, on } from "./job.js";
import { pin_this } from "./pins.js";

const SIDES = [
    ["-15 deg", "past the shine"],
    ["15 deg", "near the shine"],
    ["25 deg", "beside the shine"],
    ["45 deg", "straight on"],
    ["75 deg", "from the side"],
    ["110 deg", "from far aside"],
];
const VEILS = [
    ["", "the paint"],
    ["film", "film of the coat in hand"],
    ["faults", "faults"],
    ["grain", "grain"],
];

/** Draws the rail and keeps it true. */
export function start_lamps() {
    on("opened model look", show);
}

function show() {
    const { shelf, model } = job;
    const lights = (shelf?.lights ?? []).map((light) => [light.name, light.title]);
    const forms = (shelf?.forms ?? ["panel"]).map((form) => [form, form === "panel" ? "this panel" : form]);
    draw(
        document.getElementById("lamps"),
        choice("light", "Light", lights, job.look.light ?? model?.view?.light),
        choice("angle", "Seen", SIDES, job.look.angle ?? side_of_plan()),
        choice("form", "On", forms, job.look.form),
        choice("veil", "Show", VEILS, job.look.veil ?? ""),
        toggle("before_clear", "Before clear"),
        toggle("cutting", "Cut through"),
        make(
            "button",
            { class: "pin-this", "data-key": "pin-this", onclick: pin_this, disabled: !model },
            "Pin this look",
        ),
    );
}

function choice(key, name, options, value) {
    return make(
        "label",
        { class: "lamp", "data-key": key },
        make("span", {}, name),
        make(
            "select",
            { "data-key": `${key}.choice`, value, onchange: (event) => look({ [key]: event.target.value || null }) },
            options.map(([to, words]) => make("option", { value: to, selected: to === value }, words)),
        ),
    );
}

function toggle(key, name) {
    return make(
        "button",
        { "data-key": key, "aria-pressed": String(job.look[key]), onclick: () => look({ [key]: !job.look[key] }) },
        name,
    );
}

function side_of_plan() {
    const degrees = parseFloat(job.model?.view?.angle ?? "45");
    return SIDES.find(([angle]) => parseFloat(angle) === degrees)?.[0] ?? "45 deg";
}
