// The coat strip along the foot: the stack as a stepped spray card, one step higher for each coat, each step as the
// panel is after it (/api/strip). Touch a step to see the panel then and take the coat in hand; drag it to lay it
// earlier or later; hold it to lift it out and see without it.
import { draw, make, say } from "./draw.js";
import { begin_errand, errand_line } from "./errand.js";
import { change, job, look, on, PIECE, pick, quietly } from "./job.js";
import { view_request } from "./sight.js";
import { ask } from "./server.js";

const HOLD_MS = 550;
const DRAG_PX = 12;
const SOON_MS = 700;

let pictures = [];
let finger = null;

/** Draws the zone and keeps it true. */
export function start_strip() {
    on("opened", () => {
        pictures = [];
    });
    on("opened model look picked", show);
    on("told look", fetch_pictures);
    show();
}

let asked = "";
let painting = null;  // shown when it takes longer than one would notice

async function fetch_pictures() {
    if (!job.file || !job.model?.good) return;
    const { file, text, light, angle, form, before_clear, wide_gamut } = view_request();
    const request = { file, text, height: 96, light, angle, form, before_clear, wide_gamut };
    if (asked === JSON.stringify(request)) return;
    asked = JSON.stringify(request);
    const errand = begin_errand("strip", show);
    const soon = setTimeout(() => {
        painting = errand;
        show();
    }, SOON_MS);
    const answer = await quietly(() => ask("/api/strip", { ...request, errand: errand.name }, "strip"));
    clearTimeout(soon);
    errand.end();
    if (painting === errand) painting = null;
    if (!answer) {
        if (asked === JSON.stringify(request)) asked = "";
        show();
        return;
    }
    pictures = answer.steps;
    show();
}

function show() {
    const place = document.getElementById("strip");
    const coats = job.model?.coats ?? [];
    if (!job.file) {
        draw(place, make("p", { class: "empty" }, "The coats stand here in the order they are laid, one step each."));
        return;
    }
    const shown = job.look.after ?? coats.length;
    draw(
        place,
        make("h2", { class: "strip-name" }, "Coats"),
        painting && errand_line(painting, "the steps are painted"),
        make(
            "div",
            {
                class: "stairs",
                role: "group",
                "aria-label": "Coats in the order they are laid",
                vars: { "--steps": coats.length + 1 },
            },
            ground_step(shown),
            coats.map((coat, index) => coat_step(coat, index, shown)),
        ),
        make(
            "div",
            { class: "strip-end" },
            make(
                "button",
                {
                    "data-key": "finished",
                    "aria-pressed": String(job.look.after === null && job.look.without.length === 0),
                    onclick: () => look({ after: null, without: [] }),
                },
                "Finished",
            ),
            make(
                "button",
                { "data-key": "add-coat", onclick: add_coat },
                coats.length ? "Add a coat" : "Lay the first coat",
            ),
        ),
    );
}

function picture_of(after) {
    const found = pictures.find((step) => step.after === after);
    return found ? make("img", { src: found.picture, alt: "", draggable: "false" }) : make("span", { class: "blank" });
}

function ground_step(shown) {
    return make(
        "button",
        {
            class: job.coat === PIECE ? "step held" : "step",
            "data-key": "step ground",
            vars: { "--rise": 0 },
            "aria-pressed": String(shown === 0),
            onclick: () => {
                pick({ coat: PIECE });
                look({ after: 0 });
            },
        },
        picture_of(0),
        make("span", { class: "step-name" }, job.model?.panel?.ground?.name ?? "ground"),
        make("span", { class: "step-film" }, "ground"),
        make("span", { class: "unseen" }, ", the piece and its ground"),
    );
}

function coat_step(coat, index, shown) {
    const out = job.look.without.includes(index);
    const held = index === job.coat;
    return make(
        "button",
        {
            class: `step${out ? " lifted" : ""}${held ? " held" : ""}`,
            "data-key": coat.at,
            "data-step": index,
            vars: { "--rise": index + 1, "--shift": "0px" },
            "aria-pressed": String(shown === index + 1),
            onpointerdown: (event) => down(event, index),
            onpointermove: move,
            onpointerup: up,
            onpointercancel: cancel,
            oncontextmenu: (event) => event.preventDefault(),
            onclick: (event) => touch(event, index),
        },
        picture_of(index + 1),
        make("span", { class: "step-name" }, coat.name),
        make("span", { class: "step-film" }, out ? "lifted out" : (coat.film ?? coat.kind)),
        make("span", { class: "unseen" }, `, coat ${index + 1}${held ? ", in hand" : ""}`),
    );
}

function touch(event, index) {
    if (finger?.spent) {
        finger = null;
        return;
    }
    pick({ coat: index, pass: 0 });
    look({ after: index + 1 === job.model.coats.length ? null : index + 1 });
}

function down(event, index) {
    if (event.button !== 0) return;
    const step = event.currentTarget;
    step.setPointerCapture(event.pointerId);
    finger = { index, step, x: event.clientX, spent: false, to: null };
    finger.timer = setTimeout(() => {
        finger.spent = true;
        lift(index);
    }, HOLD_MS);
}

function move(event) {
    if (!finger || !event.currentTarget.hasPointerCapture(event.pointerId)) return;
    const way = event.clientX - finger.x;
    if (finger.to === null && (Math.abs(way) < DRAG_PX || finger.spent)) return;
    clearTimeout(finger.timer);
    finger.spent = true;
    finger.step.style.setProperty("--shift", `${way}px`);
    finger.step.classList.add("dragged");
    const steps = [...document.querySelectorAll("#strip [data-step]")].filter((step) => step !== finger.step);
    finger.to = steps.filter((step) => middle_of(step) < event.clientX).length;
}

function middle_of(step) {
    const box = step.getBoundingClientRect();
    return box.left + box.width / 2;
}

function up() {
    if (!finger) return;
    clearTimeout(finger.timer);
    const { index, to, step } = finger;
    step.style.setProperty("--shift", "0px");
    step.classList.remove("dragged");
    if (to !== null && to !== index) move_coat(index, to);
    if (!finger.spent) return;
    setTimeout(() => {
        finger = null;
    });
}

function cancel() {
    if (!finger) return;
    clearTimeout(finger.timer);
    finger.step.style.setProperty("--shift", "0px");
    finger = null;
}

/** Lays a coat at another place of the order. */
export async function move_coat(index, to) {
    const coats = job.model.coats;
    const before = index < to ? to + 1 : to;
    const words = `${coats[index].name} laid ${to < index ? "earlier" : "later"}`;
    job.look.without = [];
    pick({ coat: to, pass: 0 });
    const taken = await change(
        [{ move: coats[index].at, before: before >= coats.length ? "end" : coats[before].at }],
        words,
    );
    if (!taken) pick({ coat: index });
}

/** Lifts a coat out of the picture, or lays it back; the plan stays as it is. */
export function lift(index) {
    const out = job.look.without.includes(index);
    look({ without: out ? job.look.without.filter((each) => each !== index) : [...job.look.without, index].sort() });
    say(`${job.model.coats[index].name} ${out ? "laid back" : "lifted out"}`);
}

async function add_coat() {
    const coats = job.model?.coats ?? [];
    if (await change([{ add: "coats", like: null }], "a coat added")) pick({ coat: coats.length, pass: 0 });
}
