// What will happen, in plain sentences with figures: the gravest first, each naming its coat (/api/happen). If the plan
// is not in order, what is wrong and what to write instead (diagnostics of /api/look). Above them the coat in hand.
import { coat_card } from "./coat.js";
import { draw, make } from "./draw.js";
import { job, look, on, pick, quietly, tell } from "./job.js";
import { ask } from "./server.js";

const GRAVITY = ["wrong", "note", "fine"];
const MARKS = { wrong: ["!", "wrong"], note: ["?", "take note"], fine: ["✓", "fine"] };

let sentences = null;
let told_for = null;

/** Draws the zone and keeps it true. */
export function start_happen() {
    on("opened", () => {
        sentences = null;
    });
    on("opened model look picked", show);
    on("model", fetch_sentences);
    show();
}

async function fetch_sentences() {
    if (!job.model.good) return;
    const request = { file: job.file, text: job.text, units: job.units };
    const told = await quietly(() => ask("/api/happen", request, "happen"));
    if (request.text !== job.text) return;
    if (told) {
        sentences = told.sentences;
        told_for = request.text;
        show();
    }
    tell("told");
}

function show() {
    const place = document.getElementById("happen");
    if (!job.file) {
        draw(
            place,
            make("h2", {}, "What will happen"),
            make(
                "p",
                { class: "empty" },
                "How wide the fade gets, its largest step, what may go wrong and how much to mix is told here.",
            ),
        );
        return;
    }
    draw(
        place,
        coat_card(),
        make("h2", {}, job.model && !job.model.good ? "What is in the way" : "What will happen"),
        job.model && !job.model.good ? mistakes(job.model.diagnostics ?? []) : happening(),
    );
}

function happening() {
    if (!sentences) return make("p", { class: "empty" }, "Being worked out …");
    if (sentences.length === 0)
        return make("p", { class: "empty" }, "Nothing is laid yet. Lay the first coat at the foot of the bench.");
    const ordered = [...sentences].sort((a, b) => GRAVITY.indexOf(a.grave) - GRAVITY.indexOf(b.grave));
    return make("ul", { class: "sentences", "aria-busy": String(told_for !== job.text) }, ordered.map(sentence));
}

function sentence({ words, grave, coat }) {
    const [sign, spoken] = MARKS[grave] ?? MARKS.note;
    const whose = job.model?.coats?.[coat];
    return make(
        "li",
        { class: grave },
        make("span", { class: "mark", "aria-hidden": "true" }, sign),
        make("span", { class: "unseen" }, `${spoken}: `),
        make(
            "span",
            {},
            words,
            whose &&
                make(
                    "button",
                    { class: "whose", onclick: () => take(coat), "aria-label": `Take ${whose.name} in hand` },
                    whose.name,
                ),
        ),
    );
}

function take(coat) {
    pick({ coat, pass: 0 });
    look({ after: coat + 1 === job.model.coats.length ? null : coat + 1 });
}

function mistakes(diagnostics) {
    return make(
        "ul",
        { class: "sentences" },
        diagnostics.map(({ line, column, message, hint }) =>
            make(
                "li",
                { class: "wrong" },
                make("span", { class: "mark", "aria-hidden": "true" }, "!"),
                make(
                    "span",
                    {},
                    make("strong", {}, `line ${line}, ${column}: `),
                    message,
                    hint && make("span", { class: "hint" }, ` ${hint}`),
                ),
            ),
        ),
    );
}
