// Keeps the work: saves every change within 0.7 s, keeps the text in the browser while it is not on disk, waits for a
// server that has ended, and never writes over a file that somebody else has changed (/api/save, /api/open, /api/events).
import { ask, enter, Gone, listen, Refused } from "./server.js";
import { job, on, open_job, read_model, replace_text, tell } from "./job.js";

const QUIET_MS = 350;
const LATEST_MS = 650;
const ASK_AGAIN_MS = 1000;

/** saved, waiting, gone (nobody answers), locked (it wants a new key), met (two versions). */
export const keeping = { state: "saved", theirs: null };

let saved_text = null;
const unanswered = new Set();
let first_change = 0;
let timer = 0;
let saving = null;
let events = null;

/** Starts watching; once for the page. */
export function watch() {
    on("opened", () => {
        saved_text = job.history.steps[0].text;
        unanswered.clear();
        become("saved");
    });
    on("text", note_change);
    on("gone", () => become("gone"));
    on("refused", (error) => {
        if (error.status === 401 || error.status === 403) become("locked");
    });
    addEventListener("pagehide", keep_here);
    hear();
}

function become(state) {
    if (keeping.state === state) return;
    const was = keeping.state;
    keeping.state = state;
    tell("keeping", state);
    if (state === "gone" || (state === "locked" && was !== "gone")) setTimeout(try_again, ASK_AGAIN_MS);
}

function hear() {
    events?.close();
    events = listen((kind, data) => {
        if (kind === "progress") tell("progress", data);
        else if (data.file === job.file) look_at_disk(data.stamp);
    });
    events.onerror = () => ask("/api/folder").catch(failed);
}

function failed(error) {
    if (error instanceof Gone) become("gone");
    else if (error instanceof Refused && (error.status === 401 || error.status === 403)) become("locked");
}

function here() {
    return `bench.kept.${job.file}`;
}

function keep_here() {
    if (job.file && job.text !== saved_text) {
        localStorage.setItem(here(), JSON.stringify({ text: job.text, stamp: job.stamp }));
    }
}

function note_change() {
    if (job.text !== saved_text) keep_here();
    if (!["gone", "locked", "met"].includes(keeping.state)) become("waiting");
    const now = performance.now();
    if (!timer) first_change = now;
    clearTimeout(timer);
    timer = setTimeout(save, Math.max(0, Math.min(QUIET_MS, first_change + LATEST_MS - now)));
}

/** Saves now, if there is something to save. */
export async function save() {
    clearTimeout(timer);
    timer = 0;
    if (saving) await saving;
    if (!job.file || keeping.state === "met") return;
    if (job.text === saved_text) {
        localStorage.removeItem(here());
        if (keeping.state === "waiting") become("saved");
        return;
    }
    saving = write();
    await saving;
    saving = null;
    if (keeping.state === "waiting" && job.text !== saved_text) note_change();
}

async function write() {
    const { file, text, stamp } = job;
    unanswered.add(text);
    try {
        const answer = await ask("/api/save", { file, text, stamp });
        if (file !== job.file) return;
        unanswered.clear();
        job.stamp = answer.stamp;
        saved_text = text;
        if (job.text === text) {
            localStorage.removeItem(here());
            become("saved");
        }
    } catch (error) {
        if (error instanceof Refused && error.answer.changed_on_disk) meet(error.answer);
        else if (error instanceof Refused && error.status !== 401 && error.status !== 403) tell("refused", error);
        else failed(error);
    }
}

async function look_at_disk(stamp) {
    if (saving) await saving;
    if (stamp === job.stamp || keeping.state === "met") return;
    const disk = await ask("/api/open", { file: job.file }).catch(() => null);
    if (!disk || disk.stamp === job.stamp) return;
    meet(disk);
}

/** What lies on disk is not what was read: it is our own if its save was never answered, else somebody else's. */
function meet(disk) {
    if (disk.text === job.text || unanswered.has(disk.text)) {
        job.stamp = disk.stamp;
        saved_text = disk.text;
        become("waiting");
        note_change();
        return;
    }
    keeping.theirs = { text: disk.text, stamp: disk.stamp };
    become("met");
}

/** The painter has chosen between the two: "mine", "theirs", or a new file name for mine. */
export async function settle(choice, name) {
    const theirs = keeping.theirs;
    if (choice === "aside") {
        await ask("/api/save", { file: job.file, text: job.text, stamp: job.stamp, as: name });
        choice = "theirs";
    }
    job.stamp = theirs.stamp;
    saved_text = theirs.text;
    keeping.theirs = null;
    become("waiting");
    if (choice === "theirs") {
        replace_text(theirs.text, "took the file as it is on disk");
        localStorage.removeItem(here());
        become("saved");
    } else {
        await save();
    }
}

/** Saves under another name and goes on working there. */
export async function save_as(name) {
    const answer = await ask("/api/save", { file: job.file, text: job.text, stamp: job.stamp, as: name });
    localStorage.removeItem(here());
    job.file = name;
    job.stamp = answer.stamp;
    saved_text = job.text;
    localStorage.setItem("bench.file", name);
    become("saved");
    tell("keeping", "saved");
}

/** Opens a plan; what was not saved the last time is brought back. */
export async function open_file(file) {
    await save();
    const disk = await ask("/api/open", { file });
    const kept = JSON.parse(localStorage.getItem(`bench.kept.${file}`) ?? "null");
    const newer = kept !== null && kept.text !== disk.text;
    open_job(disk, newer ? kept.text : null);
    if (newer && kept.stamp !== disk.stamp) meet(disk);
}

async function try_again() {
    if (keeping.state !== "gone" && keeping.state !== "locked") return;
    try {
        await ask("/api/folder");
        await come_back();
    } catch (error) {
        if (error instanceof Refused) become("locked");
        else if (error instanceof Gone) keeping.state === "locked" && become("gone");
        setTimeout(try_again, ASK_AGAIN_MS);
    }
}

/** Gives the key of a server that was started again. */
export async function unlock(key) {
    if (!(await enter(key))) return false;
    await come_back();
    return keeping.state !== "locked";
}

async function come_back() {
    become("waiting");
    hear();
    await save();
    if (keeping.state === "waiting") become("saved");
    tell("back");
    if (job.file) await read_model();
}
