// Autosave: saves every edit within 0.7 s, stores the text in the browser while it is not on disk, waits for a server
// that has stopped, and never overwrites a file that was changed elsewhere (/api/save, /api/open, /api/events).
import { emit, job, on, open_job, read_model, replace_text } from "./job.js";
import { listen_to_events, request_json, send_key, ServerDown, ServerError } from "./server.js";

const QUIET_MS = 350;
const MAX_DELAY_MS = 650;
const RETRY_MS = 1000;

/**
 * state: saved, saving, server_down (no answer), locked (a new key is needed), conflict (`other` is the file on
 * disk).
 */
export const autosave = { state: "saved", other: null };

let saved_text = null;
const unconfirmed = new Set();
let first_edit = 0;
let timer = 0;
let running_save = null;
let edits_in_progress = 0;
let events = null;

/** Starts autosave; once for the page. */
export function start_autosave() {
    on("opened", () => {
        saved_text = job.history.steps[0].text;
        unconfirmed.clear();
        set_state("saved");
    });
    on("text", schedule_save);
    on("edit_started", () => {
        ++edits_in_progress;
        if (autosave.state === "saved") set_state("saving");
    });
    on("edit_ended", () => {
        --edits_in_progress;
        settle();
    });
    on("server_down", () => set_state("server_down"));
    on("error", (error) => {
        if (is_locked(error)) set_state("locked");
    });
    addEventListener("pagehide", store_locally);
    connect();
}

function set_state(state) {
    if (autosave.state === state) return;
    const previous = autosave.state;
    autosave.state = state;
    emit("save_state", state);
    if (state === "server_down" || (state === "locked" && previous !== "server_down"))
        setTimeout(retry_connection, RETRY_MS);
}

function connect() {
    events?.close();
    events = listen_to_events((name, data) => {
        if (name === "progress") emit("progress", data);
        else if (data.file === job.file) check_disk(data.sha256);
    });
    events.onerror = () => request_json("/api/folder").catch(handle_failure);
}

function is_locked(error) {
    return error instanceof ServerError && (error.status === 401 || error.status === 403);
}

function handle_failure(error) {
    if (error instanceof ServerDown) set_state("server_down");
    else if (is_locked(error)) set_state("locked");
}

function storage_key(file = job.file) {
    return `fadewright.unsaved.${file}`;
}

function store_locally() {
    if (job.file && job.text !== saved_text) {
        localStorage.setItem(storage_key(), JSON.stringify({ text: job.text, sha256: job.sha256 }));
    }
}

function schedule_save() {
    if (job.text !== saved_text) store_locally();
    if (!["server_down", "locked", "conflict"].includes(autosave.state)) set_state("saving");
    const now = performance.now();
    if (!timer) first_edit = now;
    clearTimeout(timer);
    timer = setTimeout(save, Math.max(0, Math.min(QUIET_MS, first_edit + MAX_DELAY_MS - now)));
}

/** "saved" only when the text is on disk and no edit waits for its answer. */
function settle() {
    if (autosave.state === "saving" && edits_in_progress === 0 && job.text === saved_text) set_state("saved");
}

/** Saves now, if there is something to save. */
export async function save() {
    clearTimeout(timer);
    timer = 0;
    if (running_save) await running_save;
    if (!job.file || autosave.state === "conflict") return;
    if (job.text === saved_text) {
        localStorage.removeItem(storage_key());
        settle();
        return;
    }
    running_save = write_file();
    await running_save;
    running_save = null;
    if (autosave.state === "saving" && job.text !== saved_text) schedule_save();
}

async function write_file() {
    const { file, text, sha256 } = job;
    unconfirmed.add(text);
    try {
        const answer = await request_json("/api/save", { file, text, sha256 });
        if (file !== job.file) return;
        unconfirmed.clear();
        job.sha256 = answer.sha256;
        saved_text = text;
        if (job.text === text) localStorage.removeItem(storage_key());
        if (autosave.state === "server_down" || autosave.state === "locked") reconnect();
        else settle();
    } catch (error) {
        if (error instanceof ServerError && error.answer.changed_on_disk) compare_with_disk(error.answer);
        else if (error instanceof ServerError && !is_locked(error)) emit("error", error);
        else handle_failure(error);
    }
}

async function check_disk(sha256) {
    if (running_save) await running_save;
    if (sha256 === job.sha256 || autosave.state === "conflict") return;
    const disk = await request_json("/api/open", { file: job.file }).catch(() => null);
    if (!disk || disk.sha256 === job.sha256) return;
    compare_with_disk(disk);
}

/** The file differs from what was read: our own save whose answer was lost, or a change made elsewhere. */
function compare_with_disk(disk) {
    if (disk.text === job.text || unconfirmed.has(disk.text)) {
        job.sha256 = disk.sha256;
        saved_text = disk.text;
        set_state("saving");
        schedule_save();
        return;
    }
    autosave.other = { text: disk.text, sha256: disk.sha256 };
    set_state("conflict");
}

/** The painter has chosen: "mine", "other", or "copy" with a new file name for mine. */
export async function resolve_conflict(choice, name) {
    const other = autosave.other;
    if (choice === "copy") {
        await request_json("/api/save", { file: job.file, text: job.text, sha256: job.sha256, save_as: name });
        choice = "other";
    }
    job.sha256 = other.sha256;
    saved_text = other.text;
    autosave.other = null;
    set_state("saving");
    if (choice === "other") {
        replace_text(other.text, "switched to the saved file");
        localStorage.removeItem(storage_key());
        set_state("saved");
    } else {
        await save();
    }
}

/** Saves a copy under another name and continues with the copy. */
export async function save_copy(name) {
    const body = { file: job.file, text: job.text, sha256: job.sha256, save_as: name };
    const answer = await request_json("/api/save", body);
    localStorage.removeItem(storage_key());
    job.file = name;
    job.sha256 = answer.sha256;
    saved_text = job.text;
    localStorage.setItem("fadewright.file", name);
    set_state("saved");
    emit("save_state", "saved");
}

/** Opens a plan; work that was not saved last time is restored. */
export async function open_file(file) {
    await save();
    const disk = await request_json("/api/open", { file });
    const stored = JSON.parse(localStorage.getItem(storage_key(file)) ?? "null");
    const is_newer = stored !== null && stored.text !== disk.text;
    open_job(disk, is_newer ? stored.text : null);
    if (is_newer && stored.sha256 !== disk.sha256) compare_with_disk(disk);
}

async function retry_connection() {
    if (autosave.state !== "server_down" && autosave.state !== "locked") return;
    try {
        await request_json("/api/folder");
        await reconnect();
    } catch (error) {
        if (error instanceof ServerError) set_state("locked");
        else if (error instanceof ServerDown) autosave.state === "locked" && set_state("server_down");
        setTimeout(retry_connection, RETRY_MS);
    }
}

/** Presents the key of a server that was restarted; true if it was accepted. */
export async function unlock(key) {
    if (!(await send_key(key))) return false;
    await reconnect();
    return autosave.state !== "locked";
}

async function reconnect() {
    set_state("saving");
    connect();
    await save();
    settle();
    emit("reconnected");
    if (job.file) await read_model();
}
