// Every request of the page goes through here: one function for each kind of answer, one error for each way to fail.
// A server that does not answer is told apart from one that refuses.

const page = random_id();
const beside = random_id();
const running = new Map();
let under_way = 0;

/** Also where the page is not served from this machine, and browsers keep randomUUID to themselves. */
function random_id() {
    return [...crypto.getRandomValues(new Uint8Array(12))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** The server has said no, and why. */
export class Refused extends Error {
    constructor(status, answer) {
        super(answer.refused ?? "The server could not do this.");
        this.status = status;
        this.answer = answer;
        this.hint = answer.hint ?? "";
    }
}

/** Nobody answers: the program has ended, or the network is down. */
export class Gone extends Error {}

/** A newer request took this one's place; nothing is wrong. */
export class Overtaken extends Error {}

let turns = 0;

/** Whether anything is being asked for; style sheets and tests can see it. */
function count(by) {
    under_way += by;
    document.body.dataset.busy = under_way > 0 ? "yes" : "no";
}

async function send(path, how, what, signal, id = page) {
    const headers = { "Bench-Page": id };
    // Two connections may deliver in another order than they were given.
    if (path === "/api/picture") headers["Bench-Turn"] = String(++turns);
    if (what) headers["Content-Type"] = "application/json";
    const method = what ? "POST" : "GET";
    count(1);
    try {
        const request = { method, headers, body: what && JSON.stringify(what), signal, cache: "no-store" };
        const answer = await fetch(path, request);
        const told = await (answer.ok ? answer[how]() : answer.json().catch(() => ({})));
        if (answer.ok) return { told, headers: answer.headers };
        if (told.superseded) throw new Overtaken();
        throw new Refused(answer.status, told);
    } catch (error) {
        if (error instanceof Overtaken || error instanceof Refused) throw error;
        if (signal?.aborted) throw new Overtaken();
        throw new Gone("the program does not answer", { cause: error });
    } finally {
        count(-1);
    }
}

/**
 * Asks for JSON.
 * @param {string} path  such as "/api/look"
 * @param {object=} what  sent as JSON; without it the request is a GET
 * @param {string=} instead_of  a name: an earlier request of the same name that still runs is ended
 */
export async function ask(path, what, instead_of) {
    const signal = instead_of ? overtake(instead_of) : undefined;
    return (await send(path, "json", what, signal)).told;
}

/**
 * A picture: its bytes, its frame in mm, and what the server noted about it. The server makes one at a time for each
 * page; pictures that are not the panel's (`instead_of` names them) ask as another page, so as not to end the panel's.
 */
export async function picture(what, instead_of = "picture") {
    const signal = overtake(instead_of);
    const id = instead_of === "picture" ? page : beside;
    const { told, headers } = await newest(() => send("/api/picture", "blob", what, signal, id), signal);
    const [left_mm, top_mm, mm_per_px, width_px, height_px] = (headers.get("Bench-Frame") ?? "")
        .split(/[\s,]+/)
        .map(Number);
    return {
        bytes: told,
        frame: height_px > 0 ? { left_mm, top_mm, mm_per_px, width_px, height_px } : null,
        note: decodeURIComponent(headers.get("Bench-Note") ?? ""),
    };
}

/** Asks again when an older request that came late has ended this one, which is still wanted. */
async function newest(asking, signal) {
    for (let left = 3; ; --left) {
        try {
            return await asking();
        } catch (error) {
            if (!(error instanceof Overtaken) || signal.aborted || left === 0) throw error;
        }
    }
}

/** A name for an answer that takes its time: events of kind progress carry it. */
export function errand_name() {
    return random_id();
}

/** Hangs up on a request of that name; the server then leaves off. */
export function hang_up(name) {
    running.get(name)?.abort();
}

/** A paper to keep: its bytes and the name it should have. */
export async function paper(what) {
    const { told, headers } = await send("/api/paper", "blob", what, overtake("paper"));
    const name = /filename="?([^";]+)"?/.exec(headers.get("Content-Disposition") ?? "");
    return { bytes: told, name: name ? name[1] : `${what.what}.${what.as}` };
}

/** Ends a running request of that name and gives the next one its signal. */
function overtake(name) {
    running.get(name)?.abort();
    const control = new AbortController();
    running.set(name, control);
    return control.signal;
}

/** Gives a new key to a server that was started again; true if it took it. */
export async function enter(key) {
    const answer = await fetch(`/?key=${encodeURIComponent(key)}`, { cache: "no-store" }).catch(() => null);
    return Boolean(answer?.ok);
}

/** Hears what the server has to tell of its own accord. `heard(kind, data)`; kinds: changed, progress. */
export function listen(heard) {
    const events = new EventSource("/api/events");
    for (const kind of ["changed", "progress"]) {
        events.addEventListener(kind, (event) => heard(kind, JSON.parse(event.data)));
    }
    return events;
}
