// The bar at the top: the open job, undo and redo, whether everything is saved, units, job log, exports and client
// view. Below it the alert: the server has stopped or was restarted, or an edit was rejected. Sends no requests of
// its own.
import { autosave, unlock } from "./autosave.js";
import { announce, make, render, sentence } from "./dom.js";
import { job, on, redo, set_units, undo, undo_all } from "./job.js";

let alert_error = null;

/**
 * Draws the bar and keeps it up to date. `actions` are called by its buttons: {jobs, job_log, exports, client_view}.
 */
export function start_bar(actions) {
    const update = () => render_bar(actions);
    on("opened text model save_state view reconnected", update);
    on("opened text", () => show_alert(null));
    on("save_state", () => show_alert(alert_error));
    on("error", (error) => error.status === 401 || error.status === 403 || show_alert(error));
    document.addEventListener("keydown", handle_shortcut);
    update();
}

function handle_shortcut(event) {
    if (!(event.ctrlKey || event.metaKey) || event.altKey || !job.file || event.target.dataset?.textField) return;
    const key = event.key.toLowerCase();
    if (key === "z" && !event.shiftKey) undo();
    else if (key === "y" || (key === "z" && event.shiftKey)) redo();
    else return;
    event.preventDefault();
}

function render_bar(actions) {
    const title = job.model?.title || job.file;
    show_page_title(title);
    render(
        document.getElementById("bar"),
        make(
            "button",
            { class: "job-button", "data-key": "jobs", onclick: actions.jobs },
            make("span", { class: "visually-hidden" }, "Jobs. Open: "),
            make("span", { class: "job-title" }, title || "No job open"),
            make("span", { class: "job-file" }, job.file ? `${job.file} · ${save_state_label()}` : "Open a job"),
        ),
        job.file &&
            make(
                "div",
                { class: "undo-group", role: "group", "aria-label": "Undo and redo" },
                undo_button("undo", "Undo", job.history.undo_description, undo),
                undo_button("redo", "Redo", job.history.redo_description, redo),
                undo_button("undo-all", "Undo all", job.history.undo_description && "everything", undo_all),
            ),
        make("span", { class: "spacer" }),
        make(
            "div",
            { class: "toggle-group", role: "group", "aria-label": "Units" },
            unit_button("metric", "mm"),
            unit_button("us", "in"),
        ),
        job.file && job.model && make("button", { "data-key": "job-log", onclick: actions.job_log }, "Job log"),
        job.file && make("button", { "data-key": "exports", onclick: actions.exports }, "Print & export"),
        job.file && make("button", { "data-key": "client-view", onclick: actions.client_view }, "Client view"),
    );
}

function show_page_title(title) {
    const text = title ? `Fadewright: ${title}` : "Fadewright";
    document.title = text;
    document.getElementById("page-title").textContent = text;
}

function undo_button(key, name, description, action) {
    const label = description ? `${name}: ${description}` : name;
    return make(
        "button",
        {
            "data-key": key,
            disabled: !description,
            onclick: action,
            "aria-label": label,
            title: description ? label : null,
        },
        name,
    );
}

function unit_button(units, name) {
    return make(
        "button",
        {
            "data-key": units,
            "aria-pressed": String(job.units === units),
            onclick: () => set_units(units),
        },
        name,
        make(
            "span",
            { class: "visually-hidden" },
            units === "us" ? ", mils and fluid ounces" : ", micrometres and millilitres",
        ),
    );
}

function save_state_label() {
    return {
        saved: "saved",
        saving: "saving …",
        server_down: "stored in this browser only, not saved",
        locked: "stored in this browser only, not saved",
        conflict: "changed elsewhere, not saved",
    }[autosave.state];
}

/** Shows an error, or with null none. A server that has stopped or was restarted is always shown. */
export function show_alert(error) {
    const dialog_error = document.querySelector("dialog[open] .error");
    if (error && dialog_error) {
        render(dialog_error, make("strong", {}, `${error_message(error)} `), error_hint(error));
        return;
    }
    alert_error = error;
    const container = document.getElementById("alert");
    if (autosave.state === "server_down") {
        render(
            container,
            make(
                "p",
                {},
                make("strong", {}, "Fadewright has stopped on the shop computer. "),
                "Your work is stored in this browser and is saved as soon as Fadewright runs again. " +
                    "Start it again in the same folder and on the same port.",
            ),
        );
    } else if (autosave.state === "locked") {
        render(
            container,
            make(
                "form",
                { onsubmit: submit_address },
                make(
                    "label",
                    { for: "new-address" },
                    make("strong", {}, "Fadewright was restarted. Paste the new address it printed. "),
                    "Your work is still here.",
                ),
                make("input", { id: "new-address", type: "text", "data-text-field": "yes", autocomplete: "off" }),
                make("button", {}, "Continue"),
            ),
        );
    } else if (error) {
        render(
            container,
            make("p", {}, make("strong", {}, `${error_message(error)} `), error_hint(error)),
            make("button", { onclick: () => show_alert(null) }, "Dismiss"),
        );
    } else {
        render(container);
    }
}

function error_message(error) {
    return sentence(error.answer?.error ?? error.answer?.diagnostics?.[0]?.message ?? error.message);
}

function error_hint(error) {
    return sentence(error.hint || (error.answer?.diagnostics?.[0]?.hint ?? ""));
}

async function submit_address(event) {
    event.preventDefault();
    const input = document.getElementById("new-address").value.trim();
    const key = /[?&]key=([^&\s]+)/.exec(input)?.[1] ?? input;
    if (!(await unlock(key))) announce("That did not work. Copy the whole address.");
}
