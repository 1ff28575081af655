// For the client: nothing but the looks, side by side on neutral grey, each in the light that is chosen, before or after
// clear (/api/picture for each look, one after the other).
import { differences } from "./differs.js";
import { draw, make } from "./draw.js";
import { job, quietly } from "./job.js";
import { length_text } from "./lengths.js";
import { looks } from "./pins.js";
import { picture } from "./server.js";

let sheet = null;
let options = [];
let light = null;
let before_clear = false;
let round = 0;

/** Opens the view on the job and all pinned looks. */
export async function show_client() {
    if (!sheet) {
        sheet = make("dialog", { class: "client", "aria-labelledby": "client-title", onclose: leave });
        document.body.append(sheet);
    }
    options = looks().map(({ text, model }, index) => ({ letter: letter(index), text, model, url: null }));
    light = job.look.light ?? job.model?.view?.light ?? null;
    before_clear = job.look.before_clear;
    show();
    // A dialog itself may not fill the screen; the page may, and what opens after it lies on top.
    await document.documentElement.requestFullscreen?.().catch(() => {});
    sheet.showModal();
    fetch_all();
}

function letter(index) {
    return String.fromCharCode(65 + (index % 26));
}

function leave() {
    round += 1;
    for (const option of options) if (option.url) URL.revokeObjectURL(option.url);
    if (document.fullscreenElement) document.exitFullscreen();
}

async function fetch_all() {
    const mine = ++round;
    const size = Math.min(1920, Math.ceil((innerWidth * devicePixelRatio) / Math.min(options.length, 3) / 160) * 160);
    for (const option of options) {
        const shown = await quietly(() =>
            picture(
                {
                    file: job.file,
                    text: option.text,
                    size,
                    light,
                    before_clear,
                    wide_gamut: matchMedia("(color-gamut: p3)").matches,
                    draft: false,
                },
                "client",
            ),
        );
        if (mine !== round) return;
        if (!shown) continue;
        if (option.url) URL.revokeObjectURL(option.url);
        option.url = URL.createObjectURL(shown.bytes);
        show();
    }
}

function show() {
    const lights = job.shelf?.lights ?? [];
    draw(
        sheet,
        make(
            "div",
            { class: "client-head" },
            make("h2", { id: "client-title" }, job.model?.title || job.file),
            make(
                "label",
                { class: "lamp" },
                make("span", {}, "Light"),
                make(
                    "select",
                    {
                        value: light ?? "",
                        onchange: (event) => {
                            light = event.target.value;
                            fetch_all();
                        },
                    },
                    lights.map((each) =>
                        make("option", { value: each.name, selected: each.name === light }, each.title),
                    ),
                ),
            ),
            make(
                "button",
                {
                    "data-key": "clear",
                    "aria-pressed": String(before_clear),
                    onclick: () => {
                        before_clear = !before_clear;
                        show();
                        fetch_all();
                    },
                },
                "Before clear",
            ),
            make(
                "button",
                { class: "close", "data-key": "close", autofocus: true, onclick: () => sheet.close() },
                "Back to the bench",
            ),
        ),
        make(
            "div",
            { class: "options", vars: { "--across": Math.min(options.length, options.length === 4 ? 2 : 3) } },
            options.map(option_figure),
        ),
        make(
            "p",
            { class: "client-foot" },
            "A preview on a screen, not a colour approval: only a sprayed and signed sample approves a colour.",
        ),
    );
}

function option_figure(option, index) {
    const words = index === 0 ? [] : differences(option.model, options[0].model, (mm) => length_text(mm, job.units), 4);
    return make(
        "figure",
        { class: "option", "data-key": option.letter },
        option.url ? make("img", { src: option.url, alt: `Option ${option.letter}` }) : make("div", { class: "blank" }),
        make(
            "figcaption",
            {},
            make("strong", {}, `Option ${option.letter}`),
            words.length ? ` ${words.join(" · ")}` : "",
        ),
    );
}
