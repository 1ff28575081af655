// The pin board on the wall behind the bench: looks that are kept as small cards, side by side, with what differs from
// the job on the bench written on each (/api/picture and /api/look for each; kept in the browser with the job's name).
import { differences } from "./differs.js";
import { draw, make, say } from "./draw.js";
import { job, on, quietly, replace_text } from "./job.js";
import { length_text } from "./lengths.js";
import { ask, picture } from "./server.js";

const THUMB_PX = 320;

/** The pinned looks of this job: {id, name, text, model, url}. */
let pins = [];

let last_look = Promise.resolve();

/** All looks there are to choose from: the pinned ones, and the bench's if it is not among them. */
export function looks() {
    const pinned = pins.filter((pin) => pin.model);
    const here = { text: job.text, model: job.model };
    return pinned.some((pin) => pin.text === job.text) ? pinned : [...pinned, here];
}

/** Draws the zone and keeps it true. `compare` holds all of them side by side. */
export function start_pins(compare) {
    on("opened", bring_back);
    on("opened model", () => show(compare));
    show(compare);
}

function shelf_key() {
    return `bench.pins.${job.file}`;
}

function remember() {
    localStorage.setItem(shelf_key(), JSON.stringify(pins.map(({ id, name, text }) => ({ id, name, text }))));
}

async function bring_back() {
    for (const pin of pins) if (pin.url) URL.revokeObjectURL(pin.url);
    pins = JSON.parse(localStorage.getItem(shelf_key()) ?? "[]");
    for (const pin of pins) await look_at(pin);
}

/** One pin after the other: the server makes one picture at a time. */
function look_at(pin) {
    last_look = last_look.then(() => fetch_look(pin));
    return last_look;
}

async function fetch_look(pin) {
    const { file, units } = job;
    if (!pins.includes(pin)) return;
    await quietly(async () => {
        pin.model = await ask("/api/look", { file, text: pin.text, units });
        const { bytes } = await picture({ file, text: pin.text, size: THUMB_PX, draft: false }, "pin");
        pin.url = URL.createObjectURL(bytes);
    });
    again();
}

let again = () => {};

function show(compare) {
    again = () => show(compare);
    const place = document.getElementById("wall");
    if (!job.file) {
        draw(place);
        return;
    }
    draw(
        place,
        make("h2", { class: "unseen" }, "Pin board"),
        pins.length === 0
            ? make(
                  "p",
                  { class: "empty" },
                  "Nothing on the wall yet. Pin a look, change something, pin again; then hold them side by side.",
              )
            : make("ul", { class: "cards" }, pins.map(pin_card)),
        pins.length > 0 && make("button", { "data-key": "compare", onclick: compare }, "Side by side"),
    );
}

function pin_card(pin) {
    const here = pin.text === job.text;
    const words = here
        ? ["as on the bench"]
        : pin.model && job.model
          ? differences(pin.model, job.model, (mm) => length_text(mm, job.units))
          : ["…"];
    return make(
        "li",
        { class: here ? "pin here" : "pin", "data-key": `pin ${pin.id}` },
        make(
            "button",
            { class: "pin-take", onclick: () => take(pin) },
            pin.url ? make("img", { src: pin.url, alt: "" }) : make("span", { class: "blank" }),
            make(
                "span",
                { class: "pin-words" },
                make("strong", {}, make("span", { class: "unseen" }, "Take "), pin.name),
                words.length === 0 ? "only its remarks differ" : words.map((each) => make("span", {}, each)),
            ),
        ),
        make(
            "button",
            { class: "unpin", "aria-label": `Take ${pin.name} off the board`, onclick: () => unpin(pin) },
            "×",
        ),
    );
}

/** Keeps the look that is on the bench now. */
export function pin_this() {
    const already = pins.find((pin) => pin.text === job.text);
    if (already) {
        say(`${already.name} is this look already`);
        return;
    }
    const id = pins.reduce((most, pin) => Math.max(most, pin.id), 0) + 1;
    const pin = { id, name: `Look ${id}`, text: job.text, model: job.model, url: null };
    pins.push(pin);
    remember();
    again();
    say(`pinned as ${pin.name}`);
    look_at(pin);
}

function take(pin) {
    replace_text(pin.text, `took ${pin.name}`);
}

function unpin(pin) {
    pins = pins.filter((each) => each !== pin);
    if (pin.url) URL.revokeObjectURL(pin.url);
    remember();
    again();
    document.querySelector("[data-key='pin-this']").focus();
}
