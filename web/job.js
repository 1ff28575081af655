// The job on the bench: its text, its history, what the server reads out of it, and how it is being looked at. Zones
// listen to it and ask it for changes; nothing else holds the text. The server makes every change; here it is only kept.
import { ask, Gone, Overtaken, Refused } from "./server.js";
import { History } from "./history.js";
import { say } from "./draw.js";

/** Instead of a coat's number: the piece itself is in hand. */
export const PIECE = -1;

/** What there is to know; zones read it, only this file writes it. */
export const job = {
    file: null,
    stamp: null,
    history: null,
    model: null,
    fields: null,
    shelf: null,
    units: localStorage.getItem("bench.units") ?? "metric",
    pot: null,
    coat: null,
    pass: 0,
    look: fresh_look(),
    get text() {
        return this.history ? this.history.text : null;
    },
};

const heard = new EventTarget();
let last_change = Promise.resolve();

/** How a job is first looked at. `after` null: all coats. */
export function fresh_look() {
    return {
        after: null,
        without: [],
        light: null,
        angle: null,
        form: "panel",
        before_clear: false,
        veil: null,
        cutting: false,
        cut: null,
    };
}

/** Events: opened, text, model, look, picked, held, cut, picture, told, keeping, back, progress, refused, gone. */
export function on(names, then) {
    for (const name of names.split(" ")) heard.addEventListener(name, (event) => then(event.detail));
}

export function tell(name, detail) {
    heard.dispatchEvent(new CustomEvent(name, { detail }));
}

/** Puts a plan on the bench; `kept` is a newer text of it that was not saved. */
export function open_job({ file, text, stamp }, kept = null) {
    Object.assign(job, { file, stamp, model: null, pot: null, coat: null, pass: 0, look: fresh_look() });
    job.history = new History(text);
    if (kept !== null) job.history.add(kept, "brought back what was not saved");
    localStorage.setItem("bench.file", file);
    tell("opened");
    tell("text");
}

/** Asks what the plan says; a newer text overtakes. */
export async function read_model() {
    const { file, text, units } = job;
    await quietly(async () => {
        const model = await ask("/api/look", { file, text, units }, "look");
        if (text !== job.text) return;
        if (!model.good && job.model?.good && job.history.on_trial) {
            turn_down(model.diagnostics);
            return;
        }
        if (!model.good && job.model) {
            model.pots ??= job.model.pots;
            model.coats ??= job.model.coats;
        }
        job.model = model;
        pick_something();
        tell("model");
    });
}

/** A plan that was in order stays in order: the last change goes again, and is told why. */
function turn_down(diagnostics) {
    job.history.drop();
    const { message, hint } = diagnostics.find(({ severity }) => severity === "error") ?? {};
    tell("text");
    tell("refused", new Refused(422, { refused: message, hint }));
}

/** A fade if there is one, else what is laid from the pot in hand. */
function first_coat(coats) {
    if (coats.length === 0) return null;
    const fade = coats.findIndex((coat) => coat.fade);
    return Math.max(0, fade >= 0 ? fade : coats.findIndex((coat) => coat.mix === job.pot));
}

function pick_something() {
    const { pots = [], coats = [] } = job.model;
    if (!pots.some((pot) => pot.name === job.pot)) {
        const mixed = pots.find((pot) => pot.ratio_at) ?? pots.find((pot) => pot.parts.some((part) => part.is_mix));
        job.pot = (mixed ?? pots[0])?.name ?? null;
    }
    if (job.coat === null || job.coat >= coats.length) job.coat = first_coat(coats);
    if (job.look.after !== null && job.look.after > coats.length) job.look.after = null;
}

/**
 * Changes the plan. Changes that come while one is under way wait for it.
 * @param {object[]} changes  as /api/change takes them
 * @param {string} words  what was done, for going back
 * @returns {Promise<boolean>} whether it was taken
 */
export function change(changes, words) {
    const file = job.file;
    const done = last_change.then(() => (file === job.file ? apply(changes, words) : false));
    last_change = done.catch(() => false);
    return done;
}

async function apply(changes, words) {
    return (
        (await quietly(async () => {
            const { text } = await ask("/api/change", { file: job.file, text: job.text, changes });
            replace_text(text, words, true);
            return true;
        })) ?? as_it_was()
    );
}

/** Controls and picture go back to what the plan says. */
function as_it_was() {
    tell("model");
    tell("look");
    return false;
}

/** The text after changes that are not kept: what a drag shows while the finger is down. */
export async function tried(changes) {
    return (await ask("/api/change", { file: job.file, text: job.text, changes }, "tried")).text;
}

/** Takes a whole text as the next step; `on_trial` if it goes again should the plan not be in order. */
export function replace_text(text, words, on_trial = false) {
    if (text === job.text) {
        as_it_was();
        return;
    }
    job.history.add(text, words, on_trial);
    after_text(words);
}

function after_text(words) {
    say(words);
    tell("text");
}

export function go_back() {
    const words = job.history.back_words;
    if (!words) return;
    job.history.back();
    after_text(`undone: ${words}`);
}

export function go_forward() {
    const words = job.history.forward_words;
    if (!words) return;
    job.history.forward();
    after_text(`done again: ${words}`);
}

export function go_all_back() {
    if (job.history.at === 0) return;
    job.history.all_back();
    after_text("everything undone");
}

/** Looks differently at the same plan. */
export function look(changes) {
    Object.assign(job.look, changes);
    tell("look");
}

/** Takes a pot, a coat or a pass in hand; with a coat comes the pot it is laid from. */
export function pick(what) {
    Object.assign(job, what);
    if ("coat" in what) {
        const mix = job.model?.coats?.[what.coat]?.mix;
        const pot = job.model?.pots?.find((each) => (mix ? each.name === mix : each.coat === what.coat));
        if (pot) job.pot = pot.name;
    }
    tell("picked");
}

export function set_units(units) {
    job.units = units;
    localStorage.setItem("bench.units", units);
    tell("look");
    read_model();
}

/** Does something whose failure is told in one place; gives undefined when it failed. */
export async function quietly(what) {
    try {
        return await what();
    } catch (error) {
        if (error instanceof Overtaken) return undefined;
        if (error instanceof Gone) tell("gone");
        else if (error instanceof Refused) tell("refused", error);
        else throw error;
        return undefined;
    }
}
