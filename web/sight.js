// What the eye gets: asks for the panel's picture whenever text or view change, small and quick while something is being
// dragged, whole when it is let go; the newest wins (/api/change, /api/picture). A picture is shown once it is decoded.
import { job, on, PIECE, quietly, read_model, tell, tried } from "./job.js";
import { Overtaken, picture, Refused } from "./server.js";

const DRAFT_PX = 480;
const LATEST_MODEL_MS = 400;
const SLOW_MS = 500;
const wide_gamut = matchMedia("(color-gamut: p3)");

/** The picture that is shown: {image, frame, note, draft}, or null. */
export const sight = { shown: null, wanted_px: 1280 };

let dragged = null;
let busy = false;
let turn = 0;
let last_took_ms = Infinity;

/** Starts asking; once for the page. */
export function start_sight() {
    on("opened", () => {
        last_took_ms = Infinity;
        sight.shown = null;
    });
    on("text", whole_then_model);
    on("look back", whole);
    wide_gamut.addEventListener("change", whole);
}

/** What /api/picture needs for the present view. */
export function view_request(text = job.text) {
    const { cutting, cut, ...view } = job.look;
    return {
        file: job.file,
        text,
        wide_gamut: wide_gamut.matches,
        coat: job.coat === PIECE ? null : job.coat,
        ...view,
    };
}

/** Shows what the plan would look like with these changes, quickly, while a finger is down. */
export function drag(changes) {
    dragged = changes;
    if (!busy) follow();
}

async function follow() {
    busy = true;
    while (dragged) {
        const changes = dragged;
        const mine = turn;
        dragged = null;
        await shyly(async () => {
            const text = await tried(changes);
            if (mine === turn) await show({ ...view_request(text), size: DRAFT_PX, draft: true });
        });
    }
    busy = false;
}

/** Asks for the whole picture of the plan as it stands; if that takes long, for a draft first. */
export async function whole() {
    if (!job.file) return;
    dragged = null;
    turn += 1;
    await shyly(async () => {
        if (last_took_ms > SLOW_MS) await show({ ...view_request(), size: DRAFT_PX, draft: true });
        const begin = performance.now();
        await show({ ...view_request(), size: sight.wanted_px, draft: false });
        last_took_ms = performance.now() - begin;
    });
}

/** The picture has the machine to itself first; what is read and told about the plan comes after it. */
async function whole_then_model() {
    const { text } = job;
    const picture_shown = whole();
    await Promise.race([picture_shown, new Promise((then) => setTimeout(then, LATEST_MODEL_MS))]);
    if (text === job.text) await read_model();
}

/** A plan that is not in order has no picture; the mistakes are listed elsewhere. */
function shyly(what) {
    return quietly(async () => {
        try {
            await what();
        } catch (error) {
            if (!(error instanceof Refused && error.status === 422)) throw error;
            tell("picture", { waiting: true });
        }
    });
}

async function show(request) {
    const mine = turn;
    const { bytes, frame, note } = await picture(request);
    const image = new Image();
    image.src = URL.createObjectURL(bytes);
    await image.decode();
    if (mine !== turn) {
        URL.revokeObjectURL(image.src);
        throw new Overtaken();
    }
    const before = sight.shown;
    sight.shown = { image, frame: frame ?? job.model?.frame ?? null, note, draft: request.draft };
    tell("picture", {});
    if (before) URL.revokeObjectURL(before.image.src);
}
