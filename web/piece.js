// The piece and how it is looked at, when the ground's step of the strip is in hand: the job's name, size, ground, the
// eye's distance (panel and view of /api/look; grounds of /api/shelf).
import { make } from "./draw.js";
import { job } from "./job.js";
import { length_text } from "./lengths.js";
import { choice, name_field, stepper } from "./stepper.js";

/** The piece as a small card. */
export function piece_card() {
    const { panel, view, title } = job.model;
    const size = (key, name) =>
        stepper({
            at: `panel.${key}`,
            name,
            whose: "the piece",
            value: panel ? length_text(panel[`${key}_mm`], job.units) : null,
            field: `panel.${key}`,
            step: job.units === "us" ? 0.5 : 10,
        });
    const grounds = (job.shelf?.grounds ?? []).map((ground) => [ground.name, ground.title]);
    return make(
        "div",
        { class: "coat-card open", "data-key": "piece card" },
        make("h3", {}, "The piece"),
        name_field(title ?? "", "the job", (to) => [{ set: "title", to: JSON.stringify(to) }]),
        choice({ at: "panel.ground", name: "ground", whose: "the piece", value: panel?.ground.name }, [["", grounds]]),
        size("width", "width"),
        size("height", "height"),
        stepper({
            at: "view.distance",
            name: "seen from",
            whose: "the piece",
            value: view?.distance ?? null,
            field: "view.distance",
            step: { mm: 100, cm: 10, m: 0.1, in: 4 },
        }),
    );
}
