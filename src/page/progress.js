// Progress of requests that take long: how far each is, and a button that stops it (event progress, named by `task`).
import { make } from "./dom.js";
import { on } from "./job.js";
import { abort_request, create_task_id } from "./server.js";

const tasks = new Map();

on("progress", ({ task: id, fraction }) => {
    const task = tasks.get(id);
    if (!task) return;
    task.fraction = Math.max(task.fraction ?? 0, fraction);
    task.on_progress();
});

/**
 * A task: its id goes with the request.
 * @param {string} slot  the request's slot in server.js, for stopping it
 * @param {function(): void} on_progress  called whenever it has advanced
 */
export function start_task(slot, on_progress) {
    const task = { id: create_task_id(), fraction: null, on_progress };
    tasks.set(task.id, task);
    task.stop = () => abort_request(slot);
    task.finish = () => tasks.delete(task.id);
    return task;
}

/** A task's progress as a line with label, bar and stop button. */
export function progress_line(task, label, stop_label = "Stop", stop = task.stop) {
    const percent = task.fraction === null ? null : Math.round(100 * task.fraction);
    return make(
        "div",
        { class: "progress", "data-key": `task ${task.id}` },
        make("span", { role: "status" }, percent === null ? `${label} …` : `${label}: ${percent} %`),
        make("progress", { max: 1, value: task.fraction ?? undefined, "aria-label": label }),
        make("button", { class: "stop", onclick: stop }, stop_label),
    );
}
