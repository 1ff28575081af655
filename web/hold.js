// Holding a grip: with a finger, a mouse or the arrow keys. While it moves, the picture follows; let go, and the plan has
// changed once (changes from grips.js, pictures from sight.js).
import { make } from "./draw.js";
import { change, job, on, tell } from "./job.js";
import { place_words } from "./lengths.js";
import { drag } from "./sight.js";

const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
const STEP_MM = { metric: 5, us: 6.35 };
const FINE_MM = { metric: 1, us: 1.5875 };
const SETTLE_MS = 450;

let held = null;
let keyed = null;
let settling = null;

on("model", () => {
    settling = null;
});

/** What is being moved, or has been and is not in the plan yet, and where it is: {key, at}, or null. */
export function holding() {
    return held ?? keyed ?? settling;
}

/** The button of a grip at its place. */
export function grip_button(grip, place, overlay) {
    const now = holding()?.key === grip.key ? holding().at : grip.at;
    const [x, y] = place.px(now);
    return make(
        "button",
        {
            class: `grip ${grip.kind}`,
            "data-key": grip.key,
            vars: { "--x": `${x}px`, "--y": `${y}px` },
            "aria-label": `${grip.name}: ${place_words(now, job.units)}. Arrow keys move it.`,
            onpointerdown: (event) => take(event, grip, place, overlay, now),
            onpointermove: (event) => move(event, place, overlay),
            onpointerup: let_go,
            onlostpointercapture: let_go,
            onpointercancel: give_up,
            onkeydown: (event) => arrow(event, grip, now),
            onfocus: () => grip.take?.(),
        },
        make("span", { class: "grip-name" }, grip.short),
    );
}

function at_pointer(event, place, overlay) {
    const box = overlay.getBoundingClientRect();
    return place.mm([event.clientX - box.left, event.clientY - box.top]);
}

function take(event, grip, place, overlay, now) {
    if (event.button !== 0) return;
    event.preventDefault();
    event.currentTarget.focus();
    event.currentTarget.setPointerCapture(event.pointerId);
    const from = at_pointer(event, place, overlay);
    held = { key: grip.key, grip, at: now, off: [now[0] - from[0], now[1] - from[1]], moved: false };
}

function move(event, place, overlay) {
    if (!held || !event.currentTarget.hasPointerCapture(event.pointerId)) return;
    const at = at_pointer(event, place, overlay);
    held.at = [at[0] + held.off[0], at[1] + held.off[1]];
    held.moved = true;
    try_out(held);
    tell("held");
}

function try_out({ grip, at }) {
    if (grip.cut) move_cut(grip, at);
    else drag(grip.move(at));
}

function move_cut(grip, at) {
    job.look.cut = { ...job.look.cut, [grip.cut]: at };
    tell("cut");
}

function let_go() {
    const done = held;
    held = null;
    if (done?.moved) finish(done);
}

function give_up() {
    held = null;
    tell("look");
}

function finish(done) {
    const { grip, at } = done;
    if (grip.cut) {
        move_cut(grip, at);
        return;
    }
    settling = done;
    change(grip.move(at), grip.words);
}

/** Arrow keys move at once in the picture; the plan changes when they rest, so that a walk is one step back. */
function arrow(event, grip, now) {
    if (event.key === "Escape" && held) give_up();
    const way = ARROWS[event.key];
    if (!way || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    const step = (event.shiftKey ? FINE_MM : STEP_MM)[job.units];
    if (keyed && keyed.key !== grip.key) rest();
    clearTimeout(keyed?.timer);
    keyed = { key: grip.key, grip: keyed?.grip ?? grip, at: [now[0] + way[0] * step, now[1] + way[1] * step] };
    keyed.timer = setTimeout(rest, SETTLE_MS);
    try_out(keyed);
    tell("picture", {});
}

function rest() {
    const done = keyed;
    clearTimeout(done.timer);
    keyed = null;
    finish(done);
}
