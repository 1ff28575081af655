// Dragging a handle: with a finger, a mouse or the arrow keys. While it moves, the picture follows; once released,
// the plan has changed once (edits from handles.js, pictures from picture.js).
import { make } from "./dom.js";
import { edit_plan, emit, job, on } from "./job.js";
import { preview_drag } from "./picture.js";
import { point_text } from "./units.js";

const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
const STEP_MM = { metric: 5, us: 6.35 };
const FINE_STEP_MM = { metric: 1, us: 1.5875 };
const KEY_PAUSE_MS = 450;

let pointer_drag = null;
let key_drag = null;
let pending_drag = null;

on("model", () => {
    pending_drag = null;
});

/** The drag under way, or the one that is not in the model yet: {id, point}, or null. */
export function current_drag() {
    return pointer_drag ?? key_drag ?? pending_drag;
}

/** The button of a handle at its point. */
export function handle_button(handle, map, layer) {
    const point = current_drag()?.id === handle.id ? current_drag().point : handle.point;
    const [x, y] = map.to_px(point);
    return make(
        "button",
        {
            class: `handle ${handle.kind}`,
            "data-key": handle.id,
            vars: { "--x": `${x}px`, "--y": `${y}px` },
            "aria-label": `${handle.name}: ${point_text(point, job.units)}. Arrow keys move it.`,
            onpointerdown: (event) => start_drag(event, handle, map, layer, point),
            onpointermove: (event) => move_drag(event, map, layer),
            onpointerup: release,
            onlostpointercapture: release,
            onpointercancel: cancel,
            onkeydown: (event) => handle_key(event, handle, point),
            onfocus: () => handle.select?.(),
        },
        make("span", { class: "handle-label" }, handle.label),
    );
}

function pointer_point(event, map, layer) {
    const box = layer.getBoundingClientRect();
    return map.to_mm([event.clientX - box.left, event.clientY - box.top]);
}

function start_drag(event, handle, map, layer, point) {
    if (event.button !== 0) return;
    event.preventDefault();
    event.currentTarget.focus();
    event.currentTarget.setPointerCapture(event.pointerId);
    const pointer = pointer_point(event, map, layer);
    const offset = [point[0] - pointer[0], point[1] - pointer[1]];
    pointer_drag = { id: handle.id, handle, point, offset, moved: false };
}

function move_drag(event, map, layer) {
    if (!pointer_drag || !event.currentTarget.hasPointerCapture(event.pointerId)) return;
    const pointer = pointer_point(event, map, layer);
    pointer_drag.point = [pointer[0] + pointer_drag.offset[0], pointer[1] + pointer_drag.offset[1]];
    pointer_drag.moved = true;
    preview(pointer_drag);
    emit("drag");
}

function preview({ handle, point }) {
    if (handle.section_end) move_section_line(handle, point);
    else preview_drag(handle.move(point));
}

function move_section_line(handle, point) {
    job.view.section_line = { ...job.view.section_line, [handle.section_end]: point };
    emit("section_line");
}

function release() {
    const drag = pointer_drag;
    pointer_drag = null;
    if (drag?.moved) commit(drag);
}

function cancel() {
    pointer_drag = null;
    emit("view");
}

function commit(drag) {
    const { handle, point } = drag;
    if (handle.section_end) {
        move_section_line(handle, point);
        return;
    }
    pending_drag = drag;
    edit_plan(handle.move(point), handle.description);
}

/**
 * Arrow keys show in the picture at once; the plan changes after a pause, so that a series of keys is one undo step.
 */
function handle_key(event, handle, point) {
    if (event.key === "Escape" && pointer_drag) cancel();
    const direction = ARROWS[event.key];
    if (!direction || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    const step = (event.shiftKey ? FINE_STEP_MM : STEP_MM)[job.units];
    if (key_drag && key_drag.id !== handle.id) commit_key_drag();
    clearTimeout(key_drag?.timer);
    key_drag = {
        id: handle.id,
        handle: key_drag?.handle ?? handle,
        point: [point[0] + direction[0] * step, point[1] + direction[1] * step],
    };
    key_drag.timer = setTimeout(commit_key_drag, KEY_PAUSE_MS);
    preview(key_drag);
    emit("picture", {});
}

function commit_key_drag() {
    const drag = key_drag;
    clearTimeout(drag.timer);
    key_drag = null;
    commit(drag);
}
