// The open job: its text, its history, the model the server read out of it, the selection and the view settings. Zones
// listen to it and send it edits; nothing else holds the text. The server makes every edit; here the result is kept.
import { announce } from "./dom.js";
import { History } from "./history.js";
import { request_json, ServerDown, ServerError, Superseded } from "./server.js";

/** Instead of a coat's index: the workpiece itself is selected. */
export const WORKPIECE = -1;

/** The state that zones read; only this file writes it. */
export const job = {
    file: null,
    sha256: null,
    history: null,
    model: null,
    schema: null,
    library: null,
    units: localStorage.getItem("fadewright.units") ?? "metric",
    mix: null,
    coat: null,
    pass: 0,
    view: default_view(),
    get text() {
        return this.history ? this.history.text : null;
    },
};

const events = new EventTarget();
let last_edit = Promise.resolve();

/** The view settings of a job that has just been opened. `after` null: all coats. */
export function default_view() {
    return {
        after: null,
        hidden: [],
        light: null,
        angle: null,
        shape: "panel",
        without_clear: false,
        overlay: null,
        section_open: false,
        section_line: null,
    };
}

/**
 * Calls `listener` on each of these events: opened, text, model, view, selection, drag, section_line, picture,
 * forecast, save_state, reconnected, progress, error, server_down, edit_started, edit_ended.
 */
export function on(names, listener) {
    for (const name of names.split(" ")) events.addEventListener(name, (event) => listener(event.detail));
}

export function emit(name, detail) {
    events.dispatchEvent(new CustomEvent(name, { detail }));
}

/** Opens a plan; `unsaved_text` is a newer text of it that had not been saved. */
export function open_job({ file, text, sha256 }, unsaved_text = null) {
    Object.assign(job, { file, sha256, model: null, mix: null, coat: null, pass: 0, view: default_view() });
    job.history = new History(text);
    if (unsaved_text !== null) job.history.add(unsaved_text, "restored unsaved work");
    localStorage.setItem("fadewright.file", file);
    emit("opened");
    emit("text");
}

/** Asks the server to read the plan; a newer text supersedes an older one. */
export async function read_model() {
    const { file, text, units } = job;
    await guard_errors(async () => {
        const model = await request_json("/api/model", { file, text, units }, "model");
        if (text !== job.text) return;
        if (!model.valid && job.model?.valid && job.history.provisional) {
            reject_edit(model.diagnostics);
            return;
        }
        if (!model.valid && job.model) {
            model.mixes ??= job.model.mixes;
            model.coats ??= job.model.coats;
        }
        job.model = model;
        repair_selection();
        emit("model");
    });
}

/** A valid plan stays valid: the last edit is dropped and the reason is shown. */
function reject_edit(diagnostics) {
    job.history.drop_last();
    const { message, hint } = diagnostics.find(({ severity }) => severity === "error") ?? {};
    emit("text");
    emit("error", new ServerError(422, { error: message, hint }));
}

/** The first fade if any, otherwise the coat sprayed with the selected mix. */
function default_coat(coats) {
    if (coats.length === 0) return null;
    const fade = coats.findIndex((coat) => coat.fade);
    return Math.max(0, fade >= 0 ? fade : coats.findIndex((coat) => coat.mix === job.mix));
}

function repair_selection() {
    const { mixes = [], coats = [] } = job.model;
    if (!mixes.some((mix) => mix.name === job.mix)) {
        const combined =
            mixes.find((mix) => mix.ratio_key) ?? mixes.find((mix) => mix.parts.some((part) => part.is_mix));
        job.mix = (combined ?? mixes[0])?.name ?? null;
    }
    if (job.coat === null || job.coat >= coats.length) job.coat = default_coat(coats);
    if (job.view.after !== null && job.view.after > coats.length) job.view.after = null;
}

/**
 * Edits the plan. Edits that come while another is under way wait for it.
 * @param {object[]} edits  as /api/edit takes them
 * @param {string} description  what was done, for undo
 * @returns {Promise<boolean>} whether the edit was accepted
 */
export function edit_plan(edits, description) {
    const file = job.file;
    emit("edit_started");
    const done = last_edit
        .then(() => (file === job.file ? apply_edits(edits, description) : false))
        .finally(() => emit("edit_ended"));
    last_edit = done.catch(() => false);
    return done;
}

async function apply_edits(edits, description) {
    return (
        (await guard_errors(async () => {
            const { text } = await request_json("/api/edit", { file: job.file, text: job.text, edits });
            replace_text(text, description, true);
            return true;
        })) ?? restore_controls()
    );
}

/** Controls and picture go back to what the plan says. */
function restore_controls() {
    emit("model");
    emit("view");
    return false;
}

/** The text after edits that are not kept: what a drag shows before it is released. */
export async function preview_edits(edits) {
    return (await request_json("/api/edit", { file: job.file, text: job.text, edits }, "preview edits")).text;
}

/** Takes a whole text as the next step; a `provisional` one is dropped again should the plan turn out invalid. */
export function replace_text(text, description, provisional = false) {
    if (text === job.text) {
        restore_controls();
        return;
    }
    job.history.add(text, description, provisional);
    announce_text(description);
}

function announce_text(description) {
    announce(description);
    emit("text");
}

export function undo() {
    const description = job.history.undo_description;
    if (!description) return;
    job.history.undo();
    announce_text(`undone: ${description}`);
}

export function redo() {
    const description = job.history.redo_description;
    if (!description) return;
    job.history.redo();
    announce_text(`redone: ${description}`);
}

export function undo_all() {
    if (job.history.index === 0) return;
    job.history.undo_all();
    announce_text("everything undone");
}

/** Changes view settings; the plan stays as it is. */
export function set_view(settings) {
    Object.assign(job.view, settings);
    emit("view");
}

/** Selects a mix, a coat or a pass; with a coat, the mix it is sprayed with. */
export function select(selection) {
    Object.assign(job, selection);
    if ("coat" in selection) {
        const name = job.model?.coats?.[selection.coat]?.mix;
        const mix = job.model?.mixes?.find((each) => (name ? each.name === name : each.coat === selection.coat));
        if (mix) job.mix = mix.name;
    }
    emit("selection");
}

export function set_units(units) {
    job.units = units;
    localStorage.setItem("fadewright.units", units);
    emit("view");
    read_model();
}

/** Runs `action` and reports its failure in one place; returns undefined when it failed. */
export async function guard_errors(action) {
    try {
        return await action();
    } catch (error) {
        if (error instanceof Superseded) return undefined;
        if (error instanceof ServerDown) emit("server_down");
        else if (error instanceof ServerError) emit("error", error);
        else throw error;
        return undefined;
    }
}
