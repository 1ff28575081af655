// What takes its time: how far it is, and a button that stops it (events of kind progress, named by `errand`).
import { make } from "./draw.js";
import { on } from "./job.js";
import { errand_name, hang_up } from "./server.js";

const under_way = new Map();

on("progress", ({ errand, share }) => {
    const one = under_way.get(errand);
    if (!one) return;
    one.share = Math.max(one.share ?? 0, share);
    one.changed();
});

/**
 * One errand: its name goes with the question.
 * @param {string} slot  the request's name in server.js, to hang up on
 * @param {function(): void} changed  called whenever it has got further
 */
export function begin_errand(slot, changed) {
    const one = { name: errand_name(), share: null, changed };
    under_way.set(one.name, one);
    one.stop = () => hang_up(slot);
    one.end = () => under_way.delete(one.name);
    return one;
}

/** How far it is, as a line with a bar and a button. */
export function errand_line(one, words, stop_words = "Stop", stop = one.stop) {
    const percent = one.share === null ? null : Math.round(100 * one.share);
    return make(
        "div",
        { class: "errand", "data-key": `errand ${one.name}` },
        make("span", { role: "status" }, percent === null ? `${words} …` : `${words}: ${percent} %`),
        make("progress", { max: 1, value: one.share ?? undefined, "aria-label": words }),
        make("button", { class: "stop", onclick: stop }, stop_words),
    );
}
