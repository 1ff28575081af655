// The record of the job: what was really mixed and sprayed, in the order it was written down, and a form to write down
// more (/api/record). It only ever grows. Fields and their units come from /api/fields.
import { draw, make, say, sheet_head } from "./draw.js";
import { job, quietly } from "./job.js";
import { ask } from "./server.js";

let sheet = null;
let entries = null;
let plans = [];
let mix = "";

/** Opens the record of the job on the bench. */
export function show_record() {
    if (!sheet) {
        sheet = make("dialog", { class: "sheet record", "aria-labelledby": "record-title" });
        document.body.append(sheet);
    }
    entries = null;
    mix = "";
    show();
    clear();
    sheet.showModal();
    keep({});
}

/** Asks for the record; with an entry it is written down first. True if that was taken. */
async function keep(what) {
    const { file, text, units } = job;
    sheet.querySelector(".refused").replaceChildren();
    const answer = await quietly(() => ask("/api/record", { file, text, units, ...what }, "record"));
    if (!answer) return false;
    ({ entries, plans } = answer);
    show();
    return true;
}

function show() {
    draw(
        sheet,
        sheet_head("record-title", "Record", () => sheet.close()),
        written(),
        form(),
    );
}

function written() {
    if (!entries) return make("p", { class: "empty" }, "Being read …");
    if (entries.length === 0) return make("p", { class: "empty" }, "Nothing is written down yet.");
    return make(
        "ol",
        { class: "entries", tabindex: "0", "aria-label": "Written down, in order" },
        entries.map(({ words, plan }) => {
            const [when, ...lines] = words.trim().split("\n");
            const changed = !plans.find(({ sha256 }) => sha256 === plan)?.as_now;
            return make(
                "li",
                {},
                make("strong", {}, when),
                changed && make("span", {}, " (the plan has changed since)"),
                lines.map((line) => make("span", { class: "line-of-entry" }, line.trim())),
            );
        }),
    );
}

function form() {
    return make(
        "form",
        { onsubmit: write_down, "data-key": "entry" },
        make("h3", {}, "Write down what was done"),
        make(
            "div",
            { class: "entry" },
            pick_one("mix", "mixed", mixes(), (event) => {
                mix = event.target.value;
                show();
            }),
            mix && make("div", { class: "poured" }, poured().map(pour)),
            pick_one("coat", "coat laid", coats()),
            typed("film", "film read of it"),
            typed("temperature", "temperature"),
            typed("humidity", "humidity"),
            make(
                "details",
                { "data-key": "gun set" },
                make("summary", {}, "The gun was set otherwise"),
                make(
                    "div",
                    { class: "entry" },
                    pick_one("gun", "gun", (job.shelf?.guns ?? []).map(({ name, title }) => [name, title])),
                    ["flow", "speed", "distance", "needle", "air"].map((key) => typed(key, key)),
                ),
            ),
            typed("note", "changes, and whatever else should be remembered"),
        ),
        make("div", { class: "refused", role: "alert", "data-key": "refused", "data-own": "yes" }),
        make(
            "div",
            { class: "row" },
            make("button", { class: "first", type: "submit" }, "Write it down"),
            make("span", {}, "What is written down stays: the record only ever grows."),
        ),
    );
}

function mixes() {
    const plain = job.model.coats.map((coat) => coat.mix).filter((name) => name);
    return [...new Set([...job.model.pots.map(({ name }) => name), ...plain])].map((name) => [name, name]);
}

/** A fade is laid as several coats, each of which is written down by itself. */
function coats() {
    return job.model.coats.flatMap(({ name, laid_names }) => laid_names ?? [name]).map((name) => [name, name]);
}

/** What goes into the chosen mix, and room for one thing more. */
function poured() {
    const parts = job.model.pots.find(({ name }) => name === mix)?.parts ?? [{ what: mix, title: mix }];
    return [...parts.map(({ what, title }) => ({ what, title })), { what: "", title: "something else" }];
}

function pour({ what, title }, index) {
    const paints = (job.shelf?.paints ?? []).map((paint) => [paint.name, paint.title]);
    const whose = what ? title : "it";
    return make(
        "fieldset",
        { "data-key": `pour ${mix} ${what}`, "data-pour": what || "other" },
        make("legend", {}, title),
        what ? null : pick_one("other", "paint", paints),
        typed(`grams ${index}`, "weighed", { whose, unit: "g", part: "grams" }),
        typed(`bottle ${index}`, "batch", { whose, part: "bottle" }),
    );
}

function pick_one(key, name, options, onchange = null) {
    return make(
        "label",
        { class: "line", "data-key": `${key}.line` },
        make("span", {}, name),
        make(
            "select",
            { name: key, "data-key": `${key}.pick`, "data-own": "yes", onchange },
            make("option", { value: "" }, "–"),
            options.map(([value, words]) => make("option", { value }, words)),
        ),
    );
}

function unit_of(key) {
    const find = (thing) => job.fields?.[thing]?.fields.find(({ name }) => name === key);
    return (find("record entry") ?? find("gun as set"))?.units?.[0] ?? "";
}

/** A field to type into; a bare number gets the unit that is shown. */
function typed(key, name, { whose = "", unit = unit_of(key), part = "" } = {}) {
    return make(
        "label",
        { class: key === "note" ? "line wide" : "line", "data-key": `${key}.line` },
        make("span", {}, unit ? `${name}, ${unit.replace(/^um$/, "µm")}` : name),
        make("input", {
            type: "text",
            name: key,
            "data-typed": "yes",
            "data-unit": unit,
            "data-part": part,
            "data-key": `${key}.typed`,
            "aria-label": whose ? `${name} of ${whose}` : null,
            autocomplete: "off",
            inputmode: unit ? "decimal" : null,
        }),
    );
}

function value_of(input) {
    const text = input.value.trim();
    return /^-?[\d.]+$/.test(text) && input.dataset.unit ? `${text} ${input.dataset.unit}` : text;
}

function entry_of(element) {
    const entry = {};
    for (const input of element.querySelectorAll("select, input")) {
        if (!input.closest("fieldset") && value_of(input)) entry[input.name] = value_of(input);
    }
    for (const pot of element.querySelectorAll("fieldset")) {
        const name = pot.querySelector("select") ? pot.querySelector("select").value : pot.dataset.pour;
        const said = (part) => value_of(pot.querySelector(`[data-part="${part}"]`));
        if (said("grams")) (entry.grams ??= []).push(`${name}=${said("grams")}`);
        if (said("bottle")) (entry.bottles ??= []).push(`${name}=${said("bottle")}`);
    }
    return entry;
}

async function write_down(event) {
    event.preventDefault();
    if (!(await keep({ entry: entry_of(event.target) }))) return;
    mix = "";
    clear();
    show();
    say("written down");
    const list = sheet.querySelector(".entries");
    list.scrollTop = list.scrollHeight;
    sheet.querySelector("[name=mix]").focus();
}

function clear() {
    sheet.querySelector("form details").open = false;
    for (const input of sheet.querySelectorAll("form input, form select")) {
        input.value = "";
        input.typing = false;
    }
}
