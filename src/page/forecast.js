// The predicted result in plain sentences with figures, the most severe first, each naming its coat (/api/forecast).
// If the plan has errors, those and how to fix them (diagnostics of /api/model). Above them the selected coat.
import { coat_card } from "./coat.js";
import { make, render, sentence } from "./dom.js";
import { emit, guard_errors, job, on, select, set_view } from "./job.js";
import { request_json } from "./server.js";

const SEVERITIES = ["problem", "check", "ok"];
const MARKS = { problem: ["!", "problem"], check: ["?", "check"], ok: ["✓", "OK"] };

let sentences = null;
let forecast_text = null; // the plan text that the sentences are about

/** Draws the zone and keeps it up to date. */
export function start_forecast() {
    on("opened", () => {
        sentences = null;
    });
    on("opened model view selection", show);
    on("model", fetch_forecast);
    show();
}

async function fetch_forecast() {
    if (!job.model.valid) return;
    const body = { file: job.file, text: job.text, units: job.units };
    const answer = await guard_errors(() => request_json("/api/forecast", body, "forecast"));
    if (body.text !== job.text) return;
    if (answer) {
        sentences = answer.sentences;
        forecast_text = body.text;
        show();
    }
    emit("forecast");
}

function show() {
    const container = document.getElementById("forecast");
    if (!job.file) {
        render(
            container,
            make("h2", {}, "Predicted result"),
            make(
                "p",
                { class: "empty" },
                "Fade width, largest colour step, possible defects and the amounts to mix appear here.",
            ),
        );
        return;
    }
    const has_errors = job.model && !job.model.valid;
    render(
        container,
        coat_card(),
        make("h2", {}, has_errors ? "Fix these first" : "Predicted result"),
        has_errors ? error_list(job.model.diagnostics ?? []) : sentence_list(),
    );
}

function sentence_list() {
    if (!sentences) return make("p", { class: "empty" }, "Calculating …");
    if (sentences.length === 0)
        return make("p", { class: "empty" }, "No coats yet. Add the first coat at the bottom of the page.");
    const sorted = [...sentences].sort((a, b) => SEVERITIES.indexOf(a.severity) - SEVERITIES.indexOf(b.severity));
    const is_outdated = forecast_text !== job.text;
    return make("ul", { class: "sentences", "aria-busy": String(is_outdated) }, sorted.map(sentence_item));
}

function sentence_item({ text, severity, coat: index }) {
    const [mark, label] = MARKS[severity] ?? MARKS.check;
    const coat = job.model?.coats?.[index];
    return make(
        "li",
        { class: severity },
        make("span", { class: "severity-mark", "aria-hidden": "true" }, mark),
        make("span", { class: "visually-hidden" }, `${label}: `),
        make(
            "span",
            {},
            text,
            coat &&
                make(
                    "button",
                    { class: "coat-link", onclick: () => select_coat(index), "aria-label": `Select ${coat.name}` },
                    coat.name,
                ),
        ),
    );
}

function select_coat(index) {
    select({ coat: index, pass: 0 });
    set_view({ after: index + 1 === job.model.coats.length ? null : index + 1 });
}

function error_list(diagnostics) {
    return make(
        "ul",
        { class: "sentences" },
        diagnostics.map(({ message, hint }) =>
            make(
                "li",
                { class: "problem" },
                make("span", { class: "severity-mark", "aria-hidden": "true" }, "!"),
                make(
                    "span",
                    {},
                    make("strong", {}, sentence(message)),
                    hint && make("span", { class: "hint" }, ` ${sentence(hint)}`),
                ),
            ),
        ),
    );
}
