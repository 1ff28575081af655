// The methods that can make a fade, side by side (/api/methods): each tried on this panel, with a picture, a short
// summary and a recommendation. Using one changes the fade in the plan and nothing else. A button starts the search
// for a smoother fade (/api/tune).
import { dialog_head, make, render } from "./dom.js";
import { edit_plan, guard_errors, job } from "./job.js";
import { view_request } from "./picture.js";
import { progress_line, start_task } from "./progress.js";
import { abort_request, request_json, request_picture } from "./server.js";

const CARD_PX = 320;
const SEARCH_NAME = "Best found";

let dialog = null;
let coat = null;
let comparison = null; // the answer of /api/methods, with the picture of each method
let comparison_task = null;
let search_result = null;
let search_task = null;
let round = 0;

/** Opens the methods for the fade of a coat. */
export function show_methods(fade_coat) {
    if (!dialog) {
        dialog = make("dialog", { class: "dialog methods", "aria-labelledby": "methods-title", onclose: clean_up });
        document.body.append(dialog);
    }
    coat = fade_coat;
    comparison = search_result = null;
    show();
    dialog.showModal();
    fetch_comparison();
}

function clean_up() {
    round += 1;
    for (const slot of ["methods", "tune", "method pictures"]) abort_request(slot);
    for (const { url } of sorted_methods()) if (url) URL.revokeObjectURL(url);
}

function task_body(task) {
    return { file: job.file, text: job.text, units: job.units, task: task.id };
}

async function fetch_comparison() {
    const this_round = ++round;
    comparison_task = start_task("methods", show);
    show();
    const answer = await guard_errors(() => request_json("/api/methods", task_body(comparison_task), "methods"));
    comparison_task.finish();
    comparison_task = null;
    if (this_round !== round) return;
    if (!answer) {
        if (!dialog.querySelector(".error").textContent) dialog.close(); // stopped by the user, not an error
        else show();
        return;
    }
    comparison = answer;
    show();
    await fetch_pictures(comparison.methods, this_round);
}

/** One picture after the other, with the present view settings. */
async function fetch_pictures(methods, this_round) {
    for (const method of methods) {
        await guard_errors(async () => {
            const body = { file: job.file, text: job.text, edits: method.edits };
            const { text } = await request_json("/api/edit", body);
            const view = { ...view_request(text), after: null, hidden: [], overlay: null, size: CARD_PX };
            const { bytes } = await request_picture(view, "method pictures");
            method.url = URL.createObjectURL(bytes);
        });
        if (this_round !== round) return;
        show();
    }
}

async function search() {
    const this_round = round;
    search_task = start_task("tune", show);
    show();
    const answer = await guard_errors(() => request_json("/api/tune", task_body(search_task), "tune"));
    search_task.finish();
    search_task = null;
    if (this_round !== round) return;
    if (answer) {
        const { after, edits, changes } = answer;
        search_result = { ...after, name: SEARCH_NAME, edits, changes };
    }
    show();
    dialog.querySelector(".method-card button, .search button")?.focus();
    if (search_result) await fetch_pictures([search_result], this_round);
}

async function use_method(method) {
    dialog.close();
    await edit_plan(method.edits, `${coat.name}: ${method.name}`);
}

/** The search result first, then the recommended method, the runner-up and the others in their order. */
function sorted_methods() {
    if (!comparison) return [];
    const { methods, recommended, runner_up } = comparison;
    const rank = ({ name }) => (name === recommended ? 0 : name === runner_up ? 1 : 2);
    return [search_result, ...[...methods].sort((a, b) => rank(a) - rank(b))].filter(Boolean);
}

function show() {
    render(
        dialog,
        dialog_head("methods-title", `Methods for '${coat.name}'`, () => dialog.close()),
        comparison_task && progress_line(comparison_task, "Trying each method"),
        comparison &&
            make("p", { class: "advice" }, make("strong", {}, "Recommended: "), `${comparison.advice}.`),
        comparison && make("ul", { class: "method-list" }, sorted_methods().map(method_card)),
        comparison?.not_possible &&
            make("ul", { class: "notes" }, comparison.not_possible.map(impossible_method)),
        comparison && search_row(),
        make("div", { class: "error", role: "alert", "data-key": "error", "data-unmanaged": "yes" }),
    );
}

function impossible_method({ name, reason }) {
    return make("li", {}, make("strong", {}, `${name}: `), `not possible here: ${reason}`);
}

function method_card(method, index) {
    const is_current = method.edits.length === 0;
    const tag = { [comparison.recommended]: "recommended", [comparison.runner_up]: "runner-up" }[method.name];
    return make(
        "li",
        { class: index === 0 ? "method-card best" : "method-card", "data-key": `method ${method.name}` },
        method.url ? make("img", { src: method.url, alt: "" }) : make("span", { class: "blank" }),
        make("h3", {}, method.name, tag && make("span", { class: "tag" }, ` ${tag}`)),
        make(
            "ul",
            { class: "notes" },
            (method.changes ?? []).map(change_item),
            method.summary.map((each) => make("li", {}, each)),
        ),
        method.details &&
            make(
                "details",
                {},
                make("summary", {}, "Details"),
                method.details.map((each) => make("p", {}, each)),
            ),
        is_current
            ? make("p", { class: "current" }, "current plan")
            : make(
                  "button",
                  { onclick: () => use_method(method), "aria-label": `Use this method: ${method.name}` },
                  "Use this method",
              ),
    );
}

function change_item({ setting, before, after }) {
    return make("li", {}, make("strong", {}, `${setting} ${before} → ${after}`));
}

function search_row() {
    if (search_task) {
        const stop = () => request_json("/api/cancel", { task: search_task.id });
        return progress_line(search_task, "Searching for a smoother fade", "Stop and keep the best so far", stop);
    }
    return make(
        "div",
        { class: "search row", "data-key": "search" },
        make("button", { onclick: search }, search_result ? "Search again" : "Search for a smoother fade"),
        make("span", {}, "Varies ratio, clear base, width and overlap for up to a minute."),
    );
}
