// The workpiece and its viewing conditions, shown when the ground's step of the coat strip is selected: job name, size,
// ground, viewing distance (panel and view of /api/model; grounds of /api/library).
import { make } from "./dom.js";
import { job } from "./job.js";
import { name_field, select_field, stepper } from "./stepper.js";
import { length_text } from "./units.js";

/** The workpiece as a small card. */
export function workpiece_card() {
    const { panel, view, title } = job.model;
    const size_stepper = (dimension) =>
        stepper({
            key: `panel.${dimension}`,
            name: dimension,
            owner: "the piece",
            value: panel ? length_text(panel[`${dimension}_mm`], job.units) : null,
            field: `panel.${dimension}`,
            step: job.units === "us" ? 0.5 : 10,
        });
    const grounds = (job.library?.grounds ?? []).map((ground) => [ground.name, ground.title]);
    return make(
        "div",
        { class: "coat-card open", "data-key": "workpiece card" },
        make("h3", {}, "The piece"),
        name_field(title ?? "", "the job", (name) => [{ set: "title", to: JSON.stringify(name) }]),
        select_field({ key: "panel.ground", name: "ground", owner: "the piece", value: panel?.ground.name }, [
            ["", grounds],
        ]),
        size_stepper("width"),
        size_stepper("height"),
        stepper({
            key: "view.distance",
            name: "viewing distance",
            owner: "the piece",
            value: view?.distance ?? null,
            field: "view.distance",
            step: { mm: 100, cm: 10, m: 0.1, in: 4 },
        }),
    );
}
