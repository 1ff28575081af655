// The jobs of the folder and the starter plans (/api/folder, /api/create): shown when no job is open, and by the job
// button.
import { open_file, save, save_copy } from "./autosave.js";
import { dialog_head, make, render } from "./dom.js";
import { guard_errors, job, on, open_job } from "./job.js";
import { request_json } from "./server.js";

let dialog = null;
let selected_starter = null;

/** Opens the last job again, or shows the folder. */
export async function start_folder() {
    dialog = make("dialog", { class: "dialog folder", "aria-labelledby": "folder-title" });
    document.body.append(dialog);
    on("opened", () => dialog.close());
    const last_file = localStorage.getItem("fadewright.file");
    const folder = await guard_errors(() => request_json("/api/folder"));
    if (folder?.plans.some((plan) => plan.file === last_file)) await guard_errors(() => open_file(last_file));
    else await show_folder();
}

/** Shows the folder. */
export async function show_folder() {
    await guard_errors(save);
    const folder = await guard_errors(() => request_json("/api/folder"));
    if (!folder) return;
    selected_starter ??= folder.starters[0]?.name ?? null;
    show(folder);
    if (!dialog.open) dialog.showModal();
}

function show(folder) {
    const is_empty = folder.plans.length === 0;
    render(
        dialog,
        dialog_head(
            "folder-title",
            is_empty ? "No jobs yet" : `Jobs in ${folder.folder}`,
            job.file && (() => dialog.close()),
        ),
        is_empty
            ? make(
                  "p",
                  {},
                  `There is no job in ${folder.folder} yet. Choose something to start from; ` +
                      "it is copied into the folder and is yours to change.",
              )
            : make("ul", { class: "jobs" }, folder.plans.map(job_item)),
        make("h3", {}, is_empty ? "Start from" : "Start another job from"),
        make(
            "form",
            { onsubmit: create_job },
            make(
                "div",
                { class: "starters", role: "radiogroup", "aria-label": "Start from" },
                folder.starters.map((starter) => starter_card(starter, folder)),
            ),
            make(
                "div",
                { class: "row" },
                make("label", { for: "job-name" }, "File name"),
                file_name_input("job-name", free_name(folder)),
                make("button", { class: "primary" }, "Create job"),
            ),
        ),
        job.file &&
            make(
                "form",
                { class: "row", onsubmit: submit_copy },
                make("label", { for: "copy-name" }, "Save a copy as"),
                file_name_input("copy-name"),
                make("button", {}, "Save copy"),
            ),
        make("div", { class: "error", role: "alert", "data-unmanaged": "yes" }),
    );
}

function file_name_input(id, value) {
    return make("input", {
        id,
        type: "text",
        "data-text-field": "yes",
        required: true,
        value,
        autocomplete: "off",
    });
}

function job_item(plan) {
    return make(
        "li",
        { "data-key": plan.file },
        make(
            "button",
            {
                onclick: () => guard_errors(() => open_file(plan.file)),
                "aria-current": plan.file === job.file ? "true" : null,
            },
            make("strong", {}, plan.title || plan.file),
            make("span", {}, `${plan.file} · ${plan.modified}`),
        ),
    );
}

function starter_card(starter, folder) {
    return make(
        "label",
        { class: "starter", "data-key": starter.name },
        make("input", {
            type: "radio",
            name: "starter",
            value: starter.name,
            checked: starter.name === selected_starter,
            onchange: () => {
                selected_starter = starter.name;
                show(folder);
            },
        }),
        make("strong", {}, starter.title),
        make("span", {}, starter.about),
    );
}

function free_name(folder) {
    const base = selected_starter ?? "job";
    const existing = new Set(folder.plans.map((plan) => plan.file));
    for (let number = 1; ; ++number) {
        const name = number === 1 ? base : `${base}-${number}`;
        if (!existing.has(`${name}.toml`)) return name;
    }
}

function file_name(id) {
    const name = document.getElementById(id).value.trim();
    return name.endsWith(".toml") ? name : `${name}.toml`;
}

async function create_job(event) {
    event.preventDefault();
    const body = { starter: selected_starter, file: file_name("job-name") };
    await guard_errors(async () => open_job(await request_json("/api/create", body)));
}

async function submit_copy(event) {
    event.preventDefault();
    await guard_errors(async () => {
        await save_copy(file_name("copy-name"));
        dialog.close();
    });
}
