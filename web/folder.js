// The jobs of the folder and the starting points (/api/folder, /api/begin). It is what an empty bench shows, and what
// the job's tag at the top opens.
import { draw, make, sheet_head } from "./draw.js";
import { job, on, open_job, quietly } from "./job.js";
import { open_file, save, save_as } from "./keeping.js";
import { ask } from "./server.js";

let sheet = null;
let chosen = null;

/** Opens the last job again, or offers what there is. */
export async function start_folder() {
    sheet = make("dialog", { class: "sheet folder", "aria-labelledby": "folder-title" });
    document.body.append(sheet);
    on("opened", () => sheet.close());
    const last = localStorage.getItem("bench.file");
    const folder = await quietly(() => ask("/api/folder"));
    if (folder?.plans.some((plan) => plan.file === last)) await quietly(() => open_file(last));
    else await show_folder();
}

/** Shows the folder. */
export async function show_folder() {
    await quietly(save);
    const folder = await quietly(() => ask("/api/folder"));
    if (!folder) return;
    chosen ??= folder.starts[0]?.name ?? null;
    show(folder);
    if (!sheet.open) sheet.showModal();
}

function show(folder) {
    const empty = folder.plans.length === 0;
    draw(
        sheet,
        sheet_head(
            "folder-title",
            empty ? "An empty bench" : `Jobs in ${folder.folder}`,
            job.file && (() => sheet.close()),
        ),
        empty
            ? make(
                  "p",
                  {},
                  `There is no job in ${folder.folder} yet. Choose something to start from; it is copied into the folder and is yours to change.`,
              )
            : make("ul", { class: "jobs" }, folder.plans.map(job_line)),
        make("h3", {}, empty ? "Start from" : "Start another job from"),
        make(
            "form",
            { onsubmit: begin },
            make(
                "div",
                { class: "starts", role: "radiogroup", "aria-label": "Start from" },
                folder.starts.map((start) => start_card(start, folder)),
            ),
            make(
                "div",
                { class: "row" },
                make("label", { for: "job-name" }, "Name of its file"),
                make("input", {
                    id: "job-name",
                    type: "text",
                    "data-typed": "yes",
                    required: true,
                    value: free_name(folder),
                    autocomplete: "off",
                }),
                make("button", { class: "first" }, "Put it on the bench"),
            ),
        ),
        job.file &&
            make(
                "form",
                { class: "row", onsubmit: keep_copy },
                make("label", { for: "copy-name" }, "Or go on with this job under another name"),
                make("input", {
                    id: "copy-name",
                    type: "text",
                    "data-typed": "yes",
                    required: true,
                    autocomplete: "off",
                }),
                make("button", {}, "Save as"),
            ),
        make("div", { class: "refused", role: "alert", "data-own": "yes" }),
    );
}

function job_line(plan) {
    const mistakes = plan.mistakes > 0 ? ` · ${plan.mistakes} ${plan.mistakes === 1 ? "mistake" : "mistakes"}` : "";
    return make(
        "li",
        { "data-key": plan.file },
        make(
            "button",
            {
                onclick: () => quietly(() => open_file(plan.file)),
                "aria-current": plan.file === job.file ? "true" : null,
            },
            make("strong", {}, plan.title || plan.file),
            make("span", {}, `${plan.file} · ${plan.changed}${mistakes}`),
        ),
    );
}

function start_card(start, folder) {
    return make(
        "label",
        { class: "start", "data-key": start.name },
        make("input", {
            type: "radio",
            name: "start",
            value: start.name,
            checked: start.name === chosen,
            onchange: () => {
                chosen = start.name;
                show(folder);
            },
        }),
        make("strong", {}, start.title),
        make("span", {}, start.about),
    );
}

function free_name(folder) {
    const base = chosen ?? "job";
    const taken = new Set(folder.plans.map((plan) => plan.file));
    for (let number = 1; ; ++number) {
        const name = number === 1 ? base : `${base}-${number}`;
        if (!taken.has(`${name}.toml`)) return name;
    }
}

function file_name(id) {
    const name = document.getElementById(id).value.trim();
    return name.endsWith(".toml") ? name : `${name}.toml`;
}

async function begin(event) {
    event.preventDefault();
    await quietly(async () => open_job(await ask("/api/begin", { start: chosen, file: file_name("job-name") })));
}

async function keep_copy(event) {
    event.preventDefault();
    await quietly(async () => {
        await save_as(file_name("copy-name"));
        sheet.close();
    });
}
