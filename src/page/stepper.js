// Form fields for values of the plan: a stepper for a number with or without a unit, a name, a selection. Limits and
// units come from /api/schema; the server decides what is valid.
import { make } from "./dom.js";
import { edit_plan, job } from "./job.js";

/**
 * A stepper for one value of the plan.
 * @param {object} options
 * @param {string} options.key  key path of the value, such as "mixes.plum.extend"
 * @param {string} options.name  label
 * @param {string=} options.note  what the number means, shown after the label
 * @param {string} options.owner  what it belongs to, for screen readers
 * @param {string|number|null} options.value  as written in the plan; null where the plan has none
 * @param {string} options.field  in the schema, such as "mix.extend"
 * @param {number|object} options.step  size of one step; by unit where that differs
 * @param {string=} options.placeholder  shown where the plan has no value
 */
export function stepper(options) {
    const input = make("input", {
        type: "text",
        inputmode: "decimal",
        "data-text-field": "yes",
        "data-key": `${options.key}.input`,
        autocomplete: "off",
        "aria-label": `${options.name} of ${options.owner}`,
        value: display_text(options.value ?? ""),
        placeholder: options.placeholder ?? "none",
        onchange: (event) => {
            event.target.typing = false;
            set_value(options, parse_input(options, event.target.value));
        },
        onkeydown: (event) => {
            if (event.key === "ArrowUp" || event.key === "ArrowDown") {
                event.preventDefault();
                step_value(options, event.target, event.key === "ArrowUp" ? 1 : -1);
            }
        },
    });
    const step_button = (sign, verb, direction) =>
        make(
            "button",
            {
                class: "step-button",
                "data-key": `${options.key}.${verb}`,
                "aria-label": `${verb} ${options.name} of ${options.owner}`,
                onclick: (event) =>
                    step_value(options, event.currentTarget.parentNode.querySelector("input"), direction),
            },
            sign,
        );
    return make(
        "div",
        { class: "stepper", "data-key": options.key },
        make("span", { class: "stepper-name" }, options.note ? `${options.name}, ${options.note}` : options.name),
        step_button("−", "decrease", -1),
        input,
        step_button("+", "increase", 1),
    );
}

/**
 * A text field for the name of a mix, a coat or the job.
 * @param {string} name  the present one
 * @param {string} owner  what it names, for screen readers
 * @param {function(string): object[]} rename_edits  the edits that rename it
 */
export function name_field(name, owner, rename_edits) {
    return make("input", {
        type: "text",
        class: "name",
        "data-text-field": "yes",
        "data-key": `name of ${owner}`,
        "aria-label": `Name of ${owner}`,
        autocomplete: "off",
        value: name,
        onchange: (event) => {
            event.target.typing = false;
            const new_name = event.target.value.trim();
            if (new_name && new_name !== name) edit_plan(rename_edits(new_name), `${name} renamed to ${new_name}`);
            else event.target.value = name;
        },
    });
}

/**
 * A selection for a text value of the plan.
 * @param {object} options  key, name, owner, value: as for a stepper
 * @param {Array} groups  [label or "", [[value, label], …]]
 */
export function select_field({ key, name, owner, value }, groups) {
    const option = ([choice, label]) => make("option", { value: choice, selected: choice === value }, label);
    const label_of = (choice) =>
        groups.flatMap(([, options]) => options).find(([each]) => each === choice)?.[1] ?? choice;
    return make(
        "label",
        { class: "field", "data-key": key },
        make("span", {}, name),
        make(
            "select",
            {
                "data-key": `${key}.select`,
                value: value ?? "",
                "aria-label": `${name} of ${owner}`,
                onchange: ({ target }) =>
                    edit_plan(
                        [{ set: key, to: JSON.stringify(target.value) }],
                        `${owner}: ${name} ${label_of(target.value)}`,
                    ),
            },
            value ? null : make("option", { value: "" }, "Choose"),
            groups.map(([label, options]) =>
                label ? make("optgroup", { label }, options.map(option)) : options.map(option),
            ),
        ),
    );
}

/** A field of the plan's schema; "mix.extend" is the field extend of a mix. */
export function schema_field(path) {
    const [section, name] = path.split(".");
    return job.schema?.[section]?.fields.find((each) => each.name === name) ?? null;
}

/** Micrometres are "um" in the plan and "µm" on screen. */
function display_text(value) {
    return String(value).replace(/\bum$/, "µm");
}

function step_value(options, input, direction) {
    const field = schema_field(options.field);
    const { number, unit } = split_unit(input.value, field);
    const current = number ?? field?.min ?? 0;
    const step = options.step[unit] ?? (Number(options.step) || 1);
    const multiple = direction > 0 ? Math.floor(current / step + 1e-6) + 1 : Math.ceil(current / step - 1e-6) - 1;
    let value = Number((multiple * step).toFixed(4));
    if (field?.min !== undefined) value = Math.max(value, field.min);
    if (field?.max !== undefined) value = Math.min(value, field.max);
    if (value === number) return;
    const text = unit ? `${value} ${unit}` : String(value);
    input.value = display_text(text);
    set_value(options, text);
}

function split_unit(text, field) {
    const match = /^\s*(-?[\d.]+)\s*(\D.*)?$/.exec(text);
    return {
        number: match ? Number(match[1]) : null,
        unit: match?.[2]?.trim().replace(/^[µμ]m$/, "um") || field?.units?.[0] || "",
    };
}

function parse_input(options, text) {
    const { number, unit } = split_unit(text, schema_field(options.field));
    return number !== null && unit ? `${number} ${unit}` : text.trim();
}

function set_value(options, text) {
    if (text === String(options.value ?? "")) return;
    if (text === "") {
        edit_plan([{ delete: options.key }], `${options.owner}: ${options.name} cleared`);
        return;
    }
    const before = display_text(options.value ?? options.placeholder ?? "none");
    edit_plan(
        [{ set: options.key, to: toml_value(options, text) }],
        `${options.owner}: ${options.name} ${before} → ${display_text(text)}`,
    );
}

function toml_value(options, text) {
    const type = schema_field(options.field)?.type;
    const is_plain_number = /^-?\d+(\.\d+)?$/.test(text) && type !== "quantity";
    return is_plain_number ? text : JSON.stringify(text);
}
