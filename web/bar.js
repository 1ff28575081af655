// Along the top: which job is on the bench, back and forward, whether all is saved, units, papers and the client's view.
// Below it, when there is trouble: the server that has ended, a change that was refused (no request of its own).
import { draw, make, say } from "./draw.js";
import { go_all_back, go_back, go_forward, job, on, set_units } from "./job.js";
import { keeping, unlock } from "./keeping.js";

let trouble = null;

/** Draws the bar and keeps it true. `opens` says what its doors do: {jobs, record, papers, client}. */
export function start_bar(opens) {
    const again = () => draw_bar(opens);
    on("opened text model keeping look back", again);
    on("opened text", () => show_trouble(null));
    on("keeping", () => show_trouble(trouble));
    on("refused", (error) => error.status === 401 || error.status === 403 || show_trouble(error));
    document.addEventListener("keydown", keys);
    again();
}

function keys(event) {
    if (!(event.ctrlKey || event.metaKey) || event.altKey || !job.file || event.target.dataset?.typed) return;
    const key = event.key.toLowerCase();
    if (key === "z" && !event.shiftKey) go_back();
    else if (key === "y" || (key === "z" && event.shiftKey)) go_forward();
    else return;
    event.preventDefault();
}

function draw_bar(opens) {
    const bar = document.getElementById("bar");
    const title = job.model?.title || job.file || "no job yet";
    draw(
        bar,
        make(
            "button",
            { class: "job-tag", "data-key": "jobs", onclick: opens.jobs },
            make("span", { class: "unseen" }, "Jobs. On the bench: "),
            make("span", { class: "job-title" }, title),
            make("span", { class: "job-file" }, job.file ? `${job.file} · ${saved_words()}` : "choose one"),
        ),
        job.file &&
            make(
                "div",
                { class: "steps-back", role: "group", "aria-label": "Back and forward" },
                step_button("back", "Back", job.history.back_words, go_back),
                step_button("forward", "Forward", job.history.forward_words, go_forward),
                step_button("all-back", "All back", job.history.back_words && "everything", go_all_back),
            ),
        make("span", { class: "push" }),
        make(
            "div",
            { class: "either", role: "group", "aria-label": "Units" },
            unit_button("metric", "mm"),
            unit_button("us", "inch"),
        ),
        job.file && job.model && make("button", { "data-key": "record", onclick: opens.record }, "Record"),
        job.file && make("button", { "data-key": "papers", onclick: opens.papers }, "Papers"),
        job.file && make("button", { "data-key": "client", onclick: opens.client }, "Show the client"),
    );
}

function step_button(key, name, words, act) {
    return make(
        "button",
        {
            "data-key": key,
            disabled: !words,
            onclick: act,
            "aria-label": words ? `${name}: ${words}` : name,
            title: words ? `${name}: ${words}` : null,
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
        make("span", { class: "unseen" }, units === "us" ? ", mil and fluid ounces" : ", micrometres and millilitres"),
    );
}

function saved_words() {
    return {
        saved: "saved",
        waiting: "saving …",
        gone: "kept in this browser, not saved",
        locked: "kept in this browser, not saved",
        met: "changed elsewhere, not saved",
    }[keeping.state];
}

/** Shows what went wrong, or with null nothing. What the server's silence means is always shown. */
export function show_trouble(error) {
    const sheet = document.querySelector("dialog[open] .refused");
    if (error && sheet) {
        draw(sheet, make("strong", {}, `${what_failed(error)}. `), what_to_do(error));
        return;
    }
    trouble = error;
    const place = document.getElementById("trouble");
    if (keeping.state === "gone") {
        draw(
            place,
            make(
                "p",
                {},
                make("strong", {}, "The bench's program has stopped. "),
                "Your work is kept in this browser and is saved as soon as it runs again. Start it again in the same folder, with the same --port.",
            ),
        );
    } else if (keeping.state === "locked") {
        draw(
            place,
            make(
                "form",
                { onsubmit: give_key },
                make(
                    "label",
                    { for: "new-key" },
                    make("strong", {}, "The program was started again and wants its new key. "),
                    "Paste the address that it printed; your work is still here.",
                ),
                make("input", { id: "new-key", type: "text", "data-typed": "yes", autocomplete: "off" }),
                make("button", {}, "Go on"),
            ),
        );
    } else if (error) {
        draw(
            place,
            make("p", {}, make("strong", {}, `${what_failed(error)}. `), what_to_do(error)),
            make("button", { onclick: () => show_trouble(null) }, "Understood"),
        );
    } else {
        draw(place);
    }
}

function what_failed(error) {
    return (error.answer?.refused ?? error.answer?.diagnostics?.[0]?.message ?? error.message).replace(/\.$/, "");
}

function what_to_do(error) {
    return error.hint || (error.answer?.diagnostics?.[0]?.hint ?? "");
}

async function give_key(event) {
    event.preventDefault();
    const typed = document.getElementById("new-key").value.trim();
    const key = /[?&]key=([^&\s]+)/.exec(typed)?.[1] ?? typed;
    if (!(await unlock(key))) say("That key was not taken. Copy the whole address.");
}
