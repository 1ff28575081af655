// The HTTP client of the page: one function for each kind of answer, one error class for each kind of failure. A server
// that does not answer is told apart from one that answers with an error.

const page_id = random_id();
const side_page_id = random_id();
const running = new Map();
let pending = 0;
let picture_sequence = 0;

/** Browsers offer crypto.randomUUID only in secure contexts; this works on plain HTTP as well. */
function random_id() {
    return [...crypto.getRandomValues(new Uint8Array(12))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** The server answered with an error. */
export class ServerError extends Error {
    constructor(status, answer) {
        super(answer.error ?? "The server could not do this.");
        this.status = status;
        this.answer = answer;
        this.hint = answer.hint ?? "";
    }
}

/** The server does not answer: it has stopped, or the network is down. */
export class ServerDown extends Error {}

/** A newer request took this one's place; nothing is wrong. */
export class Superseded extends Error {}

/** Counts running requests; style sheets and tests can read body[data-busy]. */
function count_pending(change) {
    pending += change;
    document.body.dataset.busy = pending > 0 ? "yes" : "no";
}

async function send(path, format, body, signal, id = page_id) {
    const headers = { "Fadewright-Page": id };
    // Two connections may deliver requests in another order than they were sent in.
    if (path === "/api/picture") headers["Fadewright-Sequence"] = String(++picture_sequence);
    if (body) headers["Content-Type"] = "application/json";
    const method = body ? "POST" : "GET";
    count_pending(1);
    try {
        const options = { method, headers, body: body && JSON.stringify(body), signal, cache: "no-store" };
        const response = await fetch(path, options);
        const content = await (response.ok ? response[format]() : response.json().catch(() => ({})));
        if (response.ok) return { content, headers: response.headers };
        if (content.superseded) throw new Superseded();
        throw new ServerError(response.status, content);
    } catch (error) {
        if (error instanceof Superseded || error instanceof ServerError) throw error;
        if (signal?.aborted) throw new Superseded();
        throw new ServerDown("the server does not answer", { cause: error });
    } finally {
        count_pending(-1);
    }
}

/**
 * Requests JSON.
 * @param {string} path  such as "/api/model"
 * @param {object=} body  sent as JSON; without it the request is a GET
 * @param {string=} slot  an earlier request in the same slot that still runs is aborted
 */
export async function request_json(path, body, slot) {
    const signal = slot ? supersede(slot) : undefined;
    return (await send(path, "json", body, signal)).content;
}

/**
 * Requests a picture: its bytes, its frame in mm, and the server's note on it. The server makes one picture at a time
 * for each page; pictures in another slot than the panel's are requested under a second page id, so as not to end the
 * panel's.
 */
export async function request_picture(body, slot = "picture") {
    const signal = supersede(slot);
    const id = slot === "picture" ? page_id : side_page_id;
    const { content, headers } = await retry_superseded(() => send("/api/picture", "blob", body, signal, id), signal);
    const [left_mm, top_mm, mm_per_px, width_px, height_px] = (headers.get("Fadewright-Frame") ?? "")
        .split(/[\s,]+/)
        .map(Number);
    return {
        bytes: content,
        frame: height_px > 0 ? { left_mm, top_mm, mm_per_px, width_px, height_px } : null,
        note: decodeURIComponent(headers.get("Fadewright-Note") ?? ""),
    };
}

/** Repeats a request that an older one, delivered late, has ended although it is still wanted. */
async function retry_superseded(request, signal) {
    for (let left = 3; ; --left) {
        try {
            return await request();
        } catch (error) {
            if (!(error instanceof Superseded) || signal.aborted || left === 0) throw error;
        }
    }
}

/** An id for a request that takes long; its progress events carry it. */
export function create_task_id() {
    return random_id();
}

/** Aborts the request in that slot; the server then stops working at it. */
export function abort_request(slot) {
    running.get(slot)?.abort();
}

/** Requests a file to keep: its bytes and its name. */
export async function request_export(body) {
    const { content, headers } = await send("/api/export", "blob", body, supersede("export"));
    const name = /filename="?([^";]+)"?/.exec(headers.get("Content-Disposition") ?? "");
    return { bytes: content, name: name ? name[1] : `${body.document}.${body.format}` };
}

/** Aborts the running request in that slot and returns the signal of the next one. */
function supersede(slot) {
    running.get(slot)?.abort();
    const controller = new AbortController();
    running.set(slot, controller);
    return controller.signal;
}

/** Presents the key of a server that was restarted; true if it was accepted. */
export async function send_key(key) {
    const response = await fetch(`/?key=${encodeURIComponent(key)}`, { cache: "no-store" }).catch(() => null);
    return Boolean(response?.ok);
}

/** Listens to the server's events. `on_event(name, data)`; names: file-changed, progress. */
export function listen_to_events(on_event) {
    const source = new EventSource("/api/events");
    for (const name of ["file-changed", "progress"]) {
        source.addEventListener(name, (event) => on_event(name, JSON.parse(event.data)));
    }
    return source;
}
