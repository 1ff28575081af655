// A value of the plan that is turned down and up, or typed: a number, or a number with its unit. What it may hold comes
// from /api/fields; what it means is for the server to say.
import { make } from "./draw.js";
import { change, job } from "./job.js";

/**
 * A stepper for one field of the plan.
 * @param {object} of
 * @param {string} of.at  the field, such as "mixes.middle.extend"
 * @param {string} of.name  what the painter calls it
 * @param {string} of.whose  whose it is, for those who only hear it
 * @param {string|number|null} of.value  plan text value; null where the plan says nothing
 * @param {string} of.field  in the schema, such as "mix.extend"
 * @param {number|object} of.step  how far one touch turns it; by unit where that differs
 * @param {string=} of.none  what is shown where the plan says nothing
 */
export function stepper(of) {
    const input = make("input", {
        type: "text",
        inputmode: "decimal",
        "data-typed": "yes",
        "data-key": `${of.at}.typed`,
        autocomplete: "off",
        "aria-label": `${of.name} of ${of.whose}`,
        value: shown(of.value ?? ""),
        placeholder: of.none ?? "none",
        onchange: (event) => {
            event.target.typing = false;
            set(of, typed(of, event.target.value));
        },
        onkeydown: (event) => {
            if (event.key === "ArrowUp" || event.key === "ArrowDown") {
                event.preventDefault();
                turn(of, event.target, event.key === "ArrowUp" ? 1 : -1);
            }
        },
    });
    const button = (sign, way) =>
        make(
            "button",
            {
                class: "turn",
                "data-key": `${of.at}.${way}`,
                "aria-label": `${way} ${of.name} of ${of.whose}`,
                onclick: (event) =>
                    turn(of, event.currentTarget.parentNode.querySelector("input"), way === "more" ? 1 : -1),
            },
            sign,
        );
    return make(
        "div",
        { class: "stepper", "data-key": of.at },
        make("span", { class: "stepper-name" }, of.name),
        button("−", "less"),
        input,
        button("+", "more"),
    );
}

/**
 * A name that is written over by typing: of a pot, a coat, the job.
 * @param {string} name  as it is
 * @param {string} of_what  for those who only hear it
 * @param {function(string): object[]} changes  what renaming means
 */
export function name_field(name, of_what, changes) {
    return make("input", {
        type: "text",
        class: "name",
        "data-typed": "yes",
        "data-key": `name of ${of_what}`,
        "aria-label": `Name of ${of_what}`,
        autocomplete: "off",
        value: name,
        onchange: (event) => {
            event.target.typing = false;
            const to = event.target.value.trim();
            if (to && to !== name) change(changes(to), `${name} is called ${to}`);
            else event.target.value = name;
        },
    });
}

/**
 * A choice for a text field of the plan.
 * @param {object} of  at, name, whose, value: as for a stepper
 * @param {Array} groups  [label or "", [[value, words], …]]
 */
export function choice({ at, name, whose, value }, groups) {
    const option = ([to, words]) => make("option", { value: to, selected: to === value }, words);
    const words_of = (to) => groups.flatMap(([, options]) => options).find(([each]) => each === to)?.[1] ?? to;
    return make(
        "label",
        { class: "line", "data-key": at },
        make("span", {}, name),
        make(
            "select",
            {
                "data-key": `${at}.choice`,
                value: value ?? "",
                "aria-label": `${name} of ${whose}`,
                onchange: ({ target }) =>
                    change(
                        [{ set: at, to: JSON.stringify(target.value) }],
                        `${whose}: ${name} ${words_of(target.value)}`,
                    ),
            },
            value ? null : make("option", { value: "" }, "choose"),
            groups.map(([label, options]) =>
                label ? make("optgroup", { label }, options.map(option)) : options.map(option),
            ),
        ),
    );
}

/** A field of the plan's schema; "mix.extend" is the field extend of a mix. */
export function field(path) {
    const [section, name] = path.split(".");
    return job.fields?.[section]?.fields.find((each) => each.name === name) ?? null;
}

/** Micrometres are written "um" in a plan and read "µm". */
function shown(value) {
    return String(value).replace(/\bum$/, "µm");
}

function turn(of, input, way) {
    const about = field(of.field);
    const { number, unit } = split(input.value, about);
    const now = number ?? about?.lowest ?? 0;
    const step = of.step[unit] ?? (Number(of.step) || 1);
    const on_grid = way > 0 ? Math.floor(now / step + 1e-6) + 1 : Math.ceil(now / step - 1e-6) - 1;
    let to = Number((on_grid * step).toFixed(4));
    if (about?.lowest !== undefined) to = Math.max(to, about.lowest);
    if (about?.highest !== undefined) to = Math.min(to, about.highest);
    if (to === number) return;
    const text = unit ? `${to} ${unit}` : String(to);
    input.value = shown(text);
    set(of, text);
}

function split(text, about) {
    const read = /^\s*(-?[\d.]+)\s*(\D.*)?$/.exec(text);
    return {
        number: read ? Number(read[1]) : null,
        unit: read?.[2]?.trim().replace(/^[µμ]m$/, "um") || about?.units?.[0] || "",
    };
}

function typed(of, text) {
    const { number, unit } = split(text, field(of.field));
    return number !== null && unit ? `${number} ${unit}` : text.trim();
}

function set(of, text) {
    if (text === String(of.value ?? "")) return;
    if (text === "") {
        change([{ take_out: of.at }], `${of.whose}: ${of.name} left out`);
        return;
    }
    const before = of.value === null || of.value === undefined ? (of.none ?? "none") : of.value;
    change([{ set: of.at, to: toml(of, text) }], `${of.whose}: ${of.name} ${before} → ${text}`);
}

function toml(of, text) {
    const kind = field(of.field)?.type;
    const plain = /^-?\d+(\.\d+)?$/.test(text) && kind !== "quantity";
    return plain ? text : JSON.stringify(text);
}
