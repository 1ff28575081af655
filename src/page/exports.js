// Print & export: files for the booth, the client and the cutter (/api/export).
import { announce, dialog_head, make, render } from "./dom.js";
import { guard_errors, job } from "./job.js";
import { view_request } from "./picture.js";
import { progress_line, start_task } from "./progress.js";
import { request_export } from "./server.js";
import { all_versions } from "./versions.js";

const EXPORTS = [
    {
        document: "sheet",
        format: "pdf",
        name: "Booth sheet",
        about: "how much to mix, grams in pouring order, one page per coat",
    },
    { document: "labels", format: "pdf", name: "Labels", about: "for the mixing cups" },
    {
        document: "proof",
        format: "pdf",
        name: "Proof",
        about: "for the client: all saved versions, with a box to sign",
    },
    { document: "proof", format: "html", name: "Proof (web page)", about: "one file that opens in any browser" },
    {
        document: "template",
        format: "pdf",
        name: "Full-size outline",
        about: "to cut a stencil from, or to place on the piece",
    },
    { document: "record", format: "txt", name: "Job log", about: "what was mixed and sprayed so far" },
    { document: "picture", format: "png", name: "Picture", about: "the current view" },
];

const SAFETY_NOTE =
    "Many two-pack (2K) paints contain isocyanates. Wear a supplied-air respirator; a cartridge mask is not enough. " +
    "Run the extraction before, during and after, and keep others out until the air is clear. No flame, spark, " +
    "smoking or hot lamps. Local law, safety and technical data sheets and licensed practice come first.";

let dialog = null;
let running = null;
let task = null;

/** Opens the dialog. */
export function show_exports() {
    if (!dialog) {
        dialog = make("dialog", { class: "dialog exports", "aria-labelledby": "exports-title" });
        document.body.append(dialog);
    }
    show();
    dialog.showModal();
}

function export_key({ document, format }) {
    return `${document} ${format}`;
}

function show() {
    render(
        dialog,
        dialog_head("exports-title", "Print & export", () => dialog.close()),
        make("p", { class: "safety-note" }, make("strong", {}, "Safety: "), SAFETY_NOTE),
        make("ul", { class: "export-list" }, EXPORTS.map(export_item)),
        make("p", {}, "Made from the job as it is now. Only a sprayed and signed sample approves a colour."),
        make("div", { class: "error", role: "alert", "data-key": "error", "data-unmanaged": "yes" }),
    );
}

function export_item(item) {
    return make(
        "li",
        { "data-key": export_key(item) },
        make(
            "button",
            { onclick: () => download(item), disabled: running !== null },
            make("strong", {}, item.name),
            make("span", { class: "tag" }, item.format.toUpperCase()),
            make("span", {}, item.about),
        ),
        running === item && progress_line(task, "Making"),
    );
}

/** The proof shows all versions, side by side when there are several; the others are made from the open plan. */
function export_body({ document, format }) {
    const paper = job.units === "us" ? "Letter" : "A4";
    const body = { ...view_request(), units: job.units, paper, document, format };
    if (document === "picture") return { ...body, size: 2560 };
    return document === "proof" ? { ...body, options: all_versions().map(({ text }) => ({ text })) } : body;
}

async function download(item) {
    running = item;
    task = start_task("export", show);
    show();
    dialog.querySelector(".error").replaceChildren();
    await guard_errors(async () => {
        const { bytes, name } = await request_export({ ...export_body(item), task: task.id });
        const link = make("a", { href: URL.createObjectURL(bytes), download: name });
        link.click();
        setTimeout(() => URL.revokeObjectURL(link.href), 60000);
        announce(`Saved to Downloads: ${name}`);
    });
    task.finish();
    running = null;
    show();
    dialog.querySelector(`[data-key="${export_key(item)}"] button`).focus();
}
