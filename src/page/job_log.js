// The job log: what was mixed and sprayed, in the order it was entered, and a form for a new entry (/api/record).
// Entries are never changed or deleted. Fields and their units come from /api/schema.
import { announce, dialog_head, make, render } from "./dom.js";
import { guard_errors, job } from "./job.js";
import { request_json } from "./server.js";

// Gun settings of an entry: schema name and label.
const GUN_SETTINGS = [
    ["flow", "fluid flow"],
    ["speed", "speed"],
    ["distance", "distance"],
    ["needle_opening", "needle opening"],
    ["air", "air pressure"],
];

let dialog = null;
let entries = null;
let plans = [];
let mix_name = "";

/** Opens the log of the open job. */
export function show_job_log() {
    if (!dialog) {
        dialog = make("dialog", { class: "dialog job-log", "aria-labelledby": "job-log-title" });
        document.body.append(dialog);
    }
    entries = null;
    mix_name = "";
    show();
    clear_form();
    dialog.showModal();
    update_log({});
}

/** Loads the log; with an entry, adds that first. True if it was accepted. */
async function update_log(extra) {
    const { file, text, units } = job;
    dialog.querySelector(".error").replaceChildren();
    const answer = await guard_errors(() => request_json("/api/record", { file, text, units, ...extra }, "record"));
    if (!answer) return false;
    ({ entries, plans } = answer);
    show();
    return true;
}

function show() {
    render(
        dialog,
        dialog_head("job-log-title", "Job log", () => dialog.close()),
        entry_list(),
        entry_form(),
    );
}

function entry_list() {
    if (!entries) return make("p", { class: "empty" }, "Loading …");
    if (entries.length === 0) return make("p", { class: "empty" }, "No entries yet.");
    return make(
        "ol",
        { class: "entries", tabindex: "0", "aria-label": "Entries, in order" },
        entries.map(({ text, plan }) => {
            const [date, ...lines] = text.trim().split("\n");
            const is_outdated = !plans.find(({ sha256 }) => sha256 === plan)?.current;
            return make(
                "li",
                {},
                make("strong", {}, date),
                is_outdated && make("span", {}, " (the plan has changed since)"),
                lines.map((line) => make("span", { class: "entry-line" }, line.trim())),
            );
        }),
    );
}

function entry_form() {
    const guns = (job.library?.guns ?? []).map(({ name, title }) => [name, title]);
    return make(
        "form",
        { onsubmit: submit_entry, "data-key": "entry" },
        make("h3", {}, "Add to job log"),
        make(
            "div",
            { class: "entry" },
            select_input("mix", "Mix made", mix_options(), (event) => {
                mix_name = event.target.value;
                show();
            }),
            mix_name && make("div", { class: "ingredients" }, ingredients().map(ingredient_fields)),
            select_input("coat", "Coat sprayed", coat_options()),
            text_input("film", "Measured dry film"),
            text_input("temperature", "temperature"),
            text_input("humidity", "humidity"),
            make(
                "details",
                { "data-key": "gun settings" },
                make("summary", {}, "Gun settings differed from the plan"),
                make(
                    "div",
                    { class: "entry" },
                    select_input("gun", "gun", guns),
                    GUN_SETTINGS.map(([name, label]) => text_input(name, label)),
                ),
            ),
            text_input("note", "Notes"),
        ),
        make("div", { class: "error", role: "alert", "data-key": "error", "data-unmanaged": "yes" }),
        make(
            "div",
            { class: "row" },
            make("button", { class: "primary", type: "submit" }, "Add entry"),
            make("span", {}, "Entries cannot be changed or deleted."),
        ),
    );
}

function mix_options() {
    const coat_mixes = job.model.coats.map((coat) => coat.mix).filter((name) => name);
    return [...new Set([...job.model.mixes.map(({ name }) => name), ...coat_mixes])].map((name) => [name, name]);
}

/** A fade is sprayed as several coats, each with entries of its own. */
function coat_options() {
    return job.model.coats
        .flatMap(({ name, expanded_names }) => expanded_names ?? [name])
        .map((name) => [name, name]);
}

/** The parts of the chosen mix, and one row for another paint. */
function ingredients() {
    const parts = job.model.mixes.find(({ name }) => name === mix_name)?.parts ?? [
        { name: mix_name, title: mix_name },
    ];
    return [...parts.map(({ name, title }) => ({ name, title })), { name: "", title: "Other paint" }];
}

function ingredient_fields({ name, title }, index) {
    const paints = (job.library?.paints ?? []).map((paint) => [paint.name, paint.title]);
    const owner = name ? title : "the other paint";
    return make(
        "fieldset",
        { "data-key": `ingredient ${mix_name} ${name}`, "data-paint": name || "other" },
        make("legend", {}, title),
        name ? null : select_input("other", "paint", paints),
        text_input(`grams ${index}`, "grams", { owner, unit: "g", value_kind: "grams" }),
        text_input(`batch ${index}`, "batch", { owner, value_kind: "batch" }),
    );
}

function select_input(name, label, options, onchange = null) {
    return make(
        "label",
        { class: "field", "data-key": `${name}.field` },
        make("span", {}, label),
        make(
            "select",
            { name, "data-key": `${name}.select`, "data-unmanaged": "yes", onchange },
            make("option", { value: "" }, "None"),
            options.map(([value, option_label]) => make("option", { value }, option_label)),
        ),
    );
}

function unit_of(name) {
    const find_field = (section) => job.schema?.[section]?.fields.find((field) => field.name === name);
    return (find_field("log entry") ?? find_field("gun settings"))?.units?.[0] ?? "";
}

/** A text input; a bare number gets the unit in the label. */
function text_input(name, label, { owner = "", unit = unit_of(name), value_kind = "" } = {}) {
    const shows_unit = unit && unit !== "g"; // "grams" says it already
    return make(
        "label",
        { class: name === "note" ? "field wide" : "field", "data-key": `${name}.field` },
        make("span", {}, shows_unit ? `${label}, ${unit_label(unit)}` : label),
        make("input", {
            type: "text",
            name,
            "data-text-field": "yes",
            "data-unit": unit,
            "data-value-kind": value_kind,
            "data-key": `${name}.input`,
            "aria-label": owner ? `${label} of ${owner}` : null,
            autocomplete: "off",
            inputmode: unit ? "decimal" : null,
        }),
    );
}

function unit_label(unit) {
    return { um: "µm", degC: "°C", degF: "°F" }[unit] ?? unit;
}

function input_value(input) {
    const text = input.value.trim();
    return /^-?[\d.]+$/.test(text) && input.dataset.unit ? `${text} ${input.dataset.unit}` : text;
}

function read_entry(form) {
    const entry = {};
    for (const input of form.querySelectorAll("select, input")) {
        if (!input.closest("fieldset") && input_value(input)) entry[input.name] = input_value(input);
    }
    for (const ingredient of form.querySelectorAll("fieldset")) {
        const menu = ingredient.querySelector("select");
        const name = menu ? menu.value : ingredient.dataset.paint;
        const value_of = (kind) => input_value(ingredient.querySelector(`[data-value-kind="${kind}"]`));
        if (value_of("grams")) (entry.weights ??= []).push(`${name}=${value_of("grams")}`);
        if (value_of("batch")) (entry.batch_numbers ??= []).push(`${name}=${value_of("batch")}`);
    }
    return entry;
}

async function submit_entry(event) {
    event.preventDefault();
    if (!(await update_log({ entry: read_entry(event.target) }))) return;
    mix_name = "";
    clear_form();
    show();
    announce("entry added");
    const list = dialog.querySelector(".entries");
    list.scrollTop = list.scrollHeight;
    dialog.querySelector("[name=mix]").focus();
}

function clear_form() {
    dialog.querySelector("form details").open = false;
    for (const input of dialog.querySelectorAll("form input, form select")) {
        input.value = "";
        input.typing = false;
    }
}
