// The picture of the panel: requested whenever the text or the view changes; small drafts while something is dragged,
// full size when it is released; the newest request wins (/api/edit, /api/picture). A picture is shown once it is
// decoded.
import { emit, guard_errors, job, on, preview_edits, read_model, WORKPIECE } from "./job.js";
import { request_picture, ServerError, Superseded } from "./server.js";

const DRAFT_PX = 480;
const MAX_MODEL_DELAY_MS = 400;
const SLOW_MS = 500;
const wide_gamut = matchMedia("(color-gamut: p3)");

/** The picture that is shown, {image, frame, note, draft} or null, and the size to ask for. */
export const picture = { shown: null, wanted_px: 1280 };

let dragged_edits = null;
let busy = false;
let sequence = 0;
let last_duration_ms = Infinity;

/** Starts requesting pictures; once for the page. */
export function start_picture() {
    on("opened", () => {
        last_duration_ms = Infinity;
        picture.shown = null;
    });
    on("text", update_picture_and_model);
    on("view reconnected", update_picture);
    wide_gamut.addEventListener("change", update_picture);
}

/** The body of /api/picture for the present view. */
export function view_request(text = job.text) {
    const { section_open, section_line, ...view } = job.view;
    return {
        file: job.file,
        text,
        wide_gamut: wide_gamut.matches,
        coat: job.coat === WORKPIECE ? null : job.coat,
        ...view,
    };
}

/** Shows quickly what the plan would look like after these edits, while a control is dragged. */
export function preview_drag(edits) {
    dragged_edits = edits;
    if (!busy) run_drafts();
}

async function run_drafts() {
    busy = true;
    while (dragged_edits) {
        const edits = dragged_edits;
        const started = sequence;
        dragged_edits = null;
        await ignore_invalid(async () => {
            const text = await preview_edits(edits);
            if (started === sequence) await show({ ...view_request(text), size: DRAFT_PX, draft: true });
        });
    }
    busy = false;
}

/** Requests the full picture of the present plan; if pictures take long, a draft first. */
export async function update_picture() {
    if (!job.file) return;
    dragged_edits = null;
    sequence += 1;
    await ignore_invalid(async () => {
        if (last_duration_ms > SLOW_MS) await show({ ...view_request(), size: DRAFT_PX, draft: true });
        const begin = performance.now();
        await show({ ...view_request(), size: picture.wanted_px, draft: false });
        last_duration_ms = performance.now() - begin;
    });
}

/** The picture gets the processor first; the model and the forecast follow. */
async function update_picture_and_model() {
    const { text } = job;
    const picture_shown = update_picture();
    await Promise.race([picture_shown, new Promise((resolve) => setTimeout(resolve, MAX_MODEL_DELAY_MS))]);
    if (text === job.text) await read_model();
}

/** An invalid plan has no picture; its errors are listed elsewhere. */
function ignore_invalid(action) {
    return guard_errors(async () => {
        try {
            await action();
        } catch (error) {
            if (!(error instanceof ServerError && error.status === 422)) throw error;
            emit("picture", { waiting: true });
        }
    });
}

async function show(body) {
    const started = sequence;
    const { bytes, frame, note } = await request_picture(body);
    const image = new Image();
    image.src = URL.createObjectURL(bytes);
    await image.decode();
    if (started !== sequence) {
        URL.revokeObjectURL(image.src);
        throw new Superseded();
    }
    const previous = picture.shown;
    picture.shown = { image, frame: frame ?? job.model?.frame ?? null, note, draft: body.draft };
    emit("picture", {});
    if (previous) URL.revokeObjectURL(previous.image.src);
}
