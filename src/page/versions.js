// Saved versions of the plan as small cards, each with what differs from the open plan (/api/picture and /api/model for
// each; stored in the browser under the name of the file).
import { differences } from "./compare.js";
import { announce, make, render } from "./dom.js";
import { guard_errors, job, on, replace_text } from "./job.js";
import { request_json, request_picture } from "./server.js";
import { length_text } from "./units.js";

const THUMBNAIL_PX = 320;

/** The saved versions of this job: {id, name, text, model, url}. */
let versions = [];

let last_load = Promise.resolve();
let update = () => {};

/** All versions to choose from: the saved ones, and the open plan if it is not among them. */
export function all_versions() {
    const saved = versions.filter((version) => version.model);
    const current = { text: job.text, model: job.model };
    return saved.some((version) => version.text === job.text) ? saved : [...saved, current];
}

/** Draws the zone and keeps it up to date. `compare` shows all versions side by side. */
export function start_versions(compare) {
    update = () => show(compare);
    on("opened", restore_versions);
    on("opened model", update);
    update();
}

function storage_key() {
    return `fadewright.versions.${job.file}`;
}

function store_versions() {
    localStorage.setItem(storage_key(), JSON.stringify(versions.map(({ id, name, text }) => ({ id, name, text }))));
}

async function restore_versions() {
    for (const version of versions) if (version.url) URL.revokeObjectURL(version.url);
    versions = JSON.parse(localStorage.getItem(storage_key()) ?? "[]");
    for (const version of versions) await load_version(version);
}

/** One version after the other: the server makes one picture at a time. */
function load_version(version) {
    last_load = last_load.then(() => fetch_version(version));
    return last_load;
}

async function fetch_version(version) {
    const { file, units } = job;
    if (!versions.includes(version)) return;
    await guard_errors(async () => {
        const { text } = version;
        version.model = await request_json("/api/model", { file, text, units });
        const { bytes } = await request_picture({ file, text, size: THUMBNAIL_PX, draft: false }, "version");
        version.url = URL.createObjectURL(bytes);
    });
    update();
}

function show(compare) {
    const container = document.getElementById("versions");
    if (!job.file) {
        render(container);
        return;
    }
    render(
        container,
        make("h2", { class: "visually-hidden" }, "Saved versions"),
        versions.length === 0
            ? make(
                  "p",
                  { class: "empty" },
                  "No saved versions yet. Save one, change something, save again, then compare.",
              )
            : make("ul", { class: "version-list" }, versions.map(version_card)),
        versions.length > 0 && make("button", { "data-key": "compare", onclick: compare }, "Compare"),
    );
}

function version_card(version) {
    const is_current = version.text === job.text;
    return make(
        "li",
        { class: is_current ? "version current" : "version", "data-key": `version ${version.id}` },
        make(
            "button",
            { class: "version-open", onclick: () => switch_to(version) },
            version.url ? make("img", { src: version.url, alt: "" }) : make("span", { class: "blank" }),
            make(
                "span",
                { class: "version-text" },
                make("strong", {}, make("span", { class: "visually-hidden" }, "Switch to "), version.name),
                difference_text(version, is_current).map((each) => make("span", {}, each)),
            ),
        ),
        make(
            "button",
            { class: "version-delete", "aria-label": `Delete ${version.name}`, onclick: () => delete_version(version) },
            "×",
        ),
    );
}

function difference_text(version, is_current) {
    if (is_current) return ["same as now"];
    if (!version.model || !job.model) return ["…"];
    const items = differences(version.model, job.model, (mm) => length_text(mm, job.units));
    return items.length > 0 ? items : ["only comments differ"];
}

/** Saves the open plan as a version. */
export function save_version() {
    const existing = versions.find((version) => version.text === job.text);
    if (existing) {
        announce(`already saved as ${existing.name}`);
        return;
    }
    const id = versions.reduce((max, version) => Math.max(max, version.id), 0) + 1;
    const version = { id, name: `Version ${id}`, text: job.text, model: job.model, url: null };
    versions.push(version);
    store_versions();
    update();
    announce(`saved as ${version.name}`);
    load_version(version);
}

function switch_to(version) {
    replace_text(version.text, `switched to ${version.name}`);
}

function delete_version(version) {
    versions = versions.filter((each) => each !== version);
    if (version.url) URL.revokeObjectURL(version.url);
    store_versions();
    update();
    document.querySelector("[data-key='save-version']").focus();
}
