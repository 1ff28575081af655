// The panel: its picture in true proportions on neutral grey, with the handles of the selected coat (pictures from
// picture.js, handles from handles.js).
import { make, render } from "./dom.js";
import { current_drag, handle_button } from "./drag.js";
import { panel_handles } from "./handles.js";
import { job, on } from "./job.js";
import { picture, update_picture } from "./picture.js";

let stage = null;
let stage_size = { width: 0, height: 0 };

/** Draws the zone and keeps it up to date. */
export function start_panel() {
    stage = make("div", { class: "stage", "data-unmanaged": "yes" });
    on("opened model view selection picture section_line", show);
    on("drag", fit_picture);
    new ResizeObserver(([entry]) => {
        stage_size = { width: entry.contentRect.width, height: entry.contentRect.height };
        fit_picture();
    }).observe(stage);
    show();
}

function show() {
    const container = document.getElementById("panel");
    render(
        container,
        make("h2", { class: "visually-hidden" }, "Panel"),
        make("div", { class: "stage-frame", "data-key": "stage frame", "data-unmanaged": "yes" }),
        make("figure", {
            id: "section",
            class: "section",
            "data-key": "section",
            "data-unmanaged": "yes",
            hidden: !job.view.section_open,
        }),
        make("p", { class: "view-note", "data-key": "note" }, view_note()),
    );
    const stage_frame = container.querySelector(".stage-frame");
    if (stage.parentNode !== stage_frame) stage_frame.append(stage);
    show_picture();
}

function view_note() {
    if (!job.file) return "";
    const coats = job.model?.coats ?? [];
    const items = [];
    if (job.view.after === 0) items.push("bare ground");
    else if (job.view.after !== null && job.view.after < coats.length)
        items.push(`after ${coats[job.view.after - 1].name}`);
    for (const index of job.view.hidden) if (coats[index]) items.push(`without ${coats[index].name}`);
    if (job.view.overlay === "film" && coats[job.coat]) items.push(`film build of ${coats[job.coat].name}`);
    if (picture.shown?.note) items.push(picture.shown.note);
    return items.join(" · ");
}

function show_picture() {
    const { shown } = picture;
    if (!shown) {
        stage.dataset.shown = "none";
        const text = job.file ? "Drawing …" : "Open or start a job to see the panel.";
        render(stage, make("p", { class: "empty" }, text));
        return;
    }
    stage.dataset.shown = shown.draft ? "draft" : "final";
    stage.dataset.picture = shown.image.src;
    if (shown.image.parentNode !== stage) {
        stage.querySelector("img")?.remove();
        stage.querySelector(".empty")?.remove();
        shown.image.alt = `${job.model?.panel ? "The panel" : "Picture"}: ${job.model?.title ?? job.file}`;
        shown.image.draggable = false;
        stage.prepend(shown.image);
    }
    fit_picture();
}

/** Shows the picture as large as fits in true proportions; handles and lines follow. */
function fit_picture() {
    const { image, frame } = picture.shown ?? {};
    if (!image || image.parentNode !== stage || stage_size.width < 10) return;
    const scale = Math.min(stage_size.width / image.naturalWidth, stage_size.height / image.naturalHeight);
    const width = Math.floor(image.naturalWidth * scale);
    const height = Math.floor(image.naturalHeight * scale);
    stage.style.setProperty("--w", `${width}px`);
    stage.style.setProperty("--h", `${height}px`);
    request_size(Math.max(width, height));
    const map = frame && panel_map(frame, width);
    const { lines, handles } =
        job.view.shape === "panel" && frame && job.model
            ? panel_handles(map, width, height, current_drag())
            : { lines: [], handles: [] };
    let layer = stage.querySelector(".handle-layer");
    if (!layer) {
        layer = make("div", { class: "handle-layer" });
        stage.append(layer);
    }
    render(
        layer,
        make("svg:svg", { viewBox: `0 0 ${width} ${height}`, "aria-hidden": "true" }, lines),
        handles.map((handle) => handle_button(handle, map, layer)),
    );
}

/** A large screen gets a large picture, in coarse steps so that resizing the window sends few requests. */
function request_size(px) {
    const wanted = Math.min(1920, Math.max(640, Math.ceil((px * devicePixelRatio) / 320) * 320));
    if (wanted === picture.wanted_px) return;
    const is_larger = wanted > picture.wanted_px;
    picture.wanted_px = wanted;
    if (is_larger && picture.shown && !picture.shown.draft) update_picture();
}

/** Maps millimetres on the panel to pixels of the shown picture and back. */
function panel_map(frame, width) {
    const mm_per_px = (frame.mm_per_px * frame.width_px) / width;
    return {
        mm_per_px,
        to_px: ([x, y]) => [(x - frame.left_mm) / mm_per_px, (frame.top_mm - y) / mm_per_px],
        to_mm: ([x, y]) => [frame.left_mm + x * mm_per_px, frame.top_mm - y * mm_per_px],
    };
}
