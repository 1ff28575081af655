// The panel: its picture at true proportions on neutral grey, with what can be taken hold of for the coat in hand
// (pictures from sight.js, grips from grips.js).
import { draw, make } from "./draw.js";
import { grips } from "./grips.js";
import { job, on } from "./job.js";
import { grip_button, holding } from "./hold.js";
import { sight, whole } from "./sight.js";

let stage = null;
let room = { width: 0, height: 0 };

/** Draws the zone and keeps it true. */
export function start_panel() {
    stage = make("div", { class: "stage", "data-own": "yes" });
    on("opened model look picked picture cut", show);
    on("held", fit);
    new ResizeObserver(([entry]) => {
        room = { width: entry.contentRect.width, height: entry.contentRect.height };
        fit();
    }).observe(stage);
    show();
}

function show() {
    const place = document.getElementById("panel");
    draw(
        place,
        make("h2", { class: "unseen" }, "Panel"),
        make("div", { class: "easel", "data-key": "easel", "data-own": "yes" }),
        make("figure", {
            id: "section",
            class: "section",
            "data-key": "section",
            "data-own": "yes",
            hidden: !job.look.cutting,
        }),
        make("p", { class: "view-note", "data-key": "note" }, view_words()),
    );
    const easel = place.querySelector(".easel");
    if (stage.parentNode !== easel) easel.append(stage);
    show_stage();
}

function view_words() {
    if (!job.file) return "";
    const coats = job.model?.coats ?? [];
    const words = [];
    if (job.look.after === 0) words.push("the bare ground");
    else if (job.look.after !== null && job.look.after < coats.length)
        words.push(`as it is after ${coats[job.look.after - 1].name}`);
    for (const index of job.look.without) if (coats[index]) words.push(`without ${coats[index].name}`);
    if (job.look.veil === "film" && coats[job.coat]) words.push(`film of ${coats[job.coat].name}`);
    if (sight.shown?.note) words.push(sight.shown.note);
    return words.join(" · ");
}

function show_stage() {
    const shown = sight.shown;
    if (!shown) {
        stage.dataset.shown = "nothing";
        draw(
            stage,
            make(
                "p",
                { class: "empty" },
                job.file ? "The picture is coming …" : "The panel stands here. Choose a job, or start one.",
            ),
        );
        return;
    }
    stage.dataset.shown = shown.draft ? "draft" : "whole";
    stage.dataset.picture = shown.image.src;
    if (shown.image.parentNode !== stage) {
        stage.querySelector("img")?.remove();
        stage.querySelector(".empty")?.remove();
        shown.image.alt = `${job.model?.panel ? "The panel" : "Picture"}: ${job.model?.title ?? job.file}`;
        shown.image.draggable = false;
        stage.prepend(shown.image);
    }
    fit();
}

/** The largest true-to-proportion size in the room there is; grips and lines follow. */
function fit() {
    const { image, frame } = sight.shown ?? {};
    if (!image || image.parentNode !== stage || room.width < 10) return;
    const scale = Math.min(room.width / image.naturalWidth, room.height / image.naturalHeight);
    const width = Math.floor(image.naturalWidth * scale);
    const height = Math.floor(image.naturalHeight * scale);
    for (const [name, value] of [
        ["--w", width],
        ["--h", height],
    ])
        stage.style.setProperty(name, `${value}px`);
    want_px(Math.max(width, height));
    const hands =
        job.look.form === "panel" && frame && job.model
            ? grips(to_place(frame, width), width, height, holding())
            : { lines: [], grips: [] };
    let overlay = stage.querySelector(".hands");
    if (!overlay) {
        overlay = make("div", { class: "hands" });
        stage.append(overlay);
    }
    draw(
        overlay,
        make("svg:svg", { viewBox: `0 0 ${width} ${height}`, "aria-hidden": "true" }, hands.lines),
        hands.grips.map((grip) => grip_button(grip, to_place(frame, width), overlay)),
    );
}

/** A big screen gets a big picture, in coarse steps so that a drag of the window asks seldom. */
function want_px(px) {
    const wanted = Math.min(1920, Math.max(640, Math.ceil((px * devicePixelRatio) / 320) * 320));
    if (wanted === sight.wanted_px) return;
    const larger = wanted > sight.wanted_px;
    sight.wanted_px = wanted;
    if (larger && sight.shown && !sight.shown.draft) whole();
}

/** From millimetres to pixels of the shown picture and back. */
function to_place(frame, width) {
    const mm = (frame.mm_per_px * frame.width_px) / width;
    return {
        mm_per_px: mm,
        px: ([x, y]) => [(x - frame.left_mm) / mm, (frame.top_mm - y) / mm],
        mm: ([x, y]) => [frame.left_mm + x * mm, frame.top_mm - y * mm],
    };
}
