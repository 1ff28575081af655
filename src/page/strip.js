// The coat strip at the bottom: the stack of coats as a stepped spray-out card, one step higher for each coat, each
// step as the panel looks after it (/api/thumbnails). Tap a step to select the coat and see the panel after it; drag
// it to move the coat; hold it to hide the coat.
import { announce, make, render } from "./dom.js";
import { edit_plan, guard_errors, job, on, select, set_view, WORKPIECE } from "./job.js";
import { view_request } from "./picture.js";
import { progress_line, start_task } from "./progress.js";
import { request_json } from "./server.js";

const HOLD_MS = 550;
const DRAG_PX = 12;
const SHOW_PROGRESS_AFTER_MS = 700;

let thumbnails = [];
let pointer = null;
let last_request = "";
let slow_task = null; // shown when it takes noticeably long

/** Draws the strip and keeps it up to date. */
export function start_strip() {
    on("opened", () => {
        thumbnails = [];
    });
    on("opened model view selection", show);
    on("forecast view", fetch_thumbnails);
    show();
}

async function fetch_thumbnails() {
    if (!job.file || !job.model?.valid) return;
    const { file, text, light, angle, shape, without_clear, wide_gamut } = view_request();
    const body = { file, text, height: 96, light, angle, shape, without_clear, wide_gamut };
    const request_text = JSON.stringify(body);
    if (last_request === request_text) return;
    last_request = request_text;
    const task = start_task("thumbnails", show);
    const timer = setTimeout(() => {
        slow_task = task;
        show();
    }, SHOW_PROGRESS_AFTER_MS);
    const answer = await guard_errors(() => request_json("/api/thumbnails", { ...body, task: task.id }, "thumbnails"));
    clearTimeout(timer);
    task.finish();
    if (slow_task === task) slow_task = null;
    if (!answer) {
        if (last_request === request_text) last_request = "";
        show();
        return;
    }
    thumbnails = answer.thumbnails;
    show();
}

function show() {
    const container = document.getElementById("strip");
    const coats = job.model?.coats ?? [];
    if (!job.file) {
        render(container, make("p", { class: "empty" }, "Coats appear here in spraying order."));
        return;
    }
    const shown = job.view.after ?? coats.length;
    render(
        container,
        make("h2", { class: "strip-name" }, "Coats"),
        slow_task && progress_line(slow_task, "Drawing the steps"),
        make(
            "div",
            {
                class: "coat-steps",
                role: "group",
                "aria-label": "Coats in spraying order",
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
                    "data-key": "all-coats",
                    "aria-pressed": String(job.view.after === null && job.view.hidden.length === 0),
                    onclick: () => set_view({ after: null, hidden: [] }),
                },
                "All coats",
            ),
            make(
                "button",
                { "data-key": "add-coat", onclick: add_coat },
                coats.length ? "Add a coat" : "Add the first coat",
            ),
        ),
    );
}

function thumbnail(after) {
    const found = thumbnails.find((each) => each.after === after);
    return found ? make("img", { src: found.picture, alt: "", draggable: "false" }) : make("span", { class: "blank" });
}

function ground_step(shown) {
    return make(
        "button",
        {
            class: job.coat === WORKPIECE ? "coat-step selected" : "coat-step",
            "data-key": "step ground",
            vars: { "--rise": 0 },
            "aria-pressed": String(shown === 0),
            onclick: () => {
                select({ coat: WORKPIECE });
                set_view({ after: 0 });
            },
        },
        thumbnail(0),
        make("span", { class: "step-name" }, job.model?.panel?.ground?.name ?? "ground"),
        make("span", { class: "step-film" }, "ground"),
        make("span", { class: "visually-hidden" }, ", the piece and its ground"),
    );
}

function coat_step(coat, index, shown) {
    const hidden = job.view.hidden.includes(index);
    const selected = index === job.coat;
    return make(
        "button",
        {
            class: `coat-step${hidden ? " hidden-coat" : ""}${selected ? " selected" : ""}`,
            "data-key": coat.key,
            "data-step": index,
            vars: { "--rise": index + 1, "--shift": "0px" },
            "aria-pressed": String(shown === index + 1),
            onpointerdown: (event) => press(event, index),
            onpointermove: move,
            onpointerup: release,
            onpointercancel: cancel,
            oncontextmenu: (event) => event.preventDefault(),
            onclick: () => tap(index),
        },
        thumbnail(index + 1),
        make("span", { class: "step-name" }, coat.name),
        make("span", { class: "step-film" }, hidden ? "hidden" : (coat.film ?? coat.kind.replaceAll("-", " "))),
        make("span", { class: "visually-hidden" }, `, coat ${index + 1}${selected ? ", selected" : ""}`),
    );
}

function tap(index) {
    if (pointer?.handled) {
        pointer = null;
        return;
    }
    select({ coat: index, pass: 0 });
    set_view({ after: index + 1 === job.model.coats.length ? null : index + 1 });
}

function press(event, index) {
    if (event.button !== 0) return;
    const step = event.currentTarget;
    step.setPointerCapture(event.pointerId);
    pointer = { index, step, x: event.clientX, handled: false, new_index: null };
    pointer.timer = setTimeout(() => {
        pointer.handled = true;
        toggle_coat(index);
    }, HOLD_MS);
}

function move(event) {
    if (!pointer || !event.currentTarget.hasPointerCapture(event.pointerId)) return;
    const shift = event.clientX - pointer.x;
    if (pointer.new_index === null && (Math.abs(shift) < DRAG_PX || pointer.handled)) return;
    clearTimeout(pointer.timer);
    pointer.handled = true;
    pointer.step.style.setProperty("--shift", `${shift}px`);
    pointer.step.classList.add("dragging");
    const other_steps = [...document.querySelectorAll("#strip [data-step]")].filter((step) => step !== pointer.step);
    pointer.new_index = other_steps.filter((step) => centre_x(step) < event.clientX).length;
}

function centre_x(step) {
    const box = step.getBoundingClientRect();
    return box.left + box.width / 2;
}

function release() {
    if (!pointer) return;
    clearTimeout(pointer.timer);
    const { index, new_index, step } = pointer;
    step.style.setProperty("--shift", "0px");
    step.classList.remove("dragging");
    if (new_index !== null && new_index !== index) move_coat(index, new_index);
    if (!pointer.handled) return;
    setTimeout(() => {
        pointer = null;
    });
}

function cancel() {
    if (!pointer) return;
    clearTimeout(pointer.timer);
    pointer.step.style.setProperty("--shift", "0px");
    pointer = null;
}

/** Moves a coat to another place in the spraying order. */
export async function move_coat(index, new_index) {
    const coats = job.model.coats;
    const before = index < new_index ? new_index + 1 : new_index;
    const description = `${coats[index].name} moved ${new_index < index ? "earlier" : "later"}`;
    job.view.hidden = [];
    select({ coat: new_index, pass: 0 });
    const accepted = await edit_plan(
        [{ move: coats[index].key, before: before >= coats.length ? "end" : coats[before].key }],
        description,
    );
    if (!accepted) select({ coat: index });
}

/** Hides a coat in the picture, or shows it again; the plan stays as it is. */
export function toggle_coat(index) {
    const { hidden } = job.view;
    const is_hidden = hidden.includes(index);
    const others = hidden.filter((each) => each !== index);
    set_view({ hidden: is_hidden ? others : [...others, index].sort() });
    announce(`${job.model.coats[index].name} ${is_hidden ? "shown" : "hidden"}`);
}

async function add_coat() {
    const coats = job.model?.coats ?? [];
    if (await edit_plan([{ add: "coats", copy_of: null }], "coat added")) select({ coat: coats.length, pass: 0 });
}
