// The client view: nothing but the versions, side by side on neutral grey, under the chosen light, with or without
// clear (/api/picture for each, one after the other).
import { differences } from "./compare.js";
import { make, render } from "./dom.js";
import { guard_errors, job } from "./job.js";
import { request_picture } from "./server.js";
import { length_text } from "./units.js";
import { all_versions } from "./versions.js";

let dialog = null;
let options = [];
let light = null;
let without_clear = false;
let round = 0;

/** Opens the view on the open plan and all saved versions. */
export async function show_client_view() {
    if (!dialog) {
        dialog = make("dialog", { class: "client-view", "aria-labelledby": "client-title", onclose: clean_up });
        document.body.append(dialog);
    }
    options = all_versions().map(({ text, model }, index) => ({
        letter: option_letter(index),
        text,
        model,
        url: null,
    }));
    light = job.view.light ?? job.model?.view?.light ?? null;
    without_clear = job.view.without_clear;
    show();
    // A dialog itself cannot go full screen; the page can, and what opens after it lies on top.
    await document.documentElement.requestFullscreen?.().catch(() => {});
    dialog.showModal();
    fetch_pictures();
}

function option_letter(index) {
    return String.fromCharCode(65 + (index % 26));
}

function clean_up() {
    round += 1;
    for (const option of options) if (option.url) URL.revokeObjectURL(option.url);
    if (document.fullscreenElement) document.exitFullscreen();
}

async function fetch_pictures() {
    const this_round = ++round;
    const size = Math.min(1920, Math.ceil((innerWidth * devicePixelRatio) / Math.min(options.length, 3) / 160) * 160);
    for (const option of options) {
        const answer = await guard_errors(() =>
            request_picture(
                {
                    file: job.file,
                    text: option.text,
                    size,
                    light,
                    without_clear,
                    wide_gamut: matchMedia("(color-gamut: p3)").matches,
                    draft: false,
                },
                "client view",
            ),
        );
        if (this_round !== round) return;
        if (!answer) continue;
        if (option.url) URL.revokeObjectURL(option.url);
        option.url = URL.createObjectURL(answer.bytes);
        show();
    }
}

function show() {
    const lights = job.library?.lights ?? [];
    render(
        dialog,
        make(
            "div",
            { class: "client-head" },
            make("h2", { id: "client-title" }, job.model?.title || job.file),
            make(
                "label",
                { class: "view-control" },
                make("span", {}, "Light"),
                make(
                    "select",
                    {
                        value: light ?? "",
                        onchange: (event) => {
                            light = event.target.value;
                            fetch_pictures();
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
                    "data-key": "without-clear",
                    "aria-pressed": String(without_clear),
                    onclick: () => {
                        without_clear = !without_clear;
                        show();
                        fetch_pictures();
                    },
                },
                "Without clear",
            ),
            make(
                "button",
                { class: "close", "data-key": "close", autofocus: true, onclick: () => dialog.close() },
                "Close",
            ),
        ),
        make(
            "div",
            { class: "options", vars: { "--columns": Math.min(options.length, options.length === 4 ? 2 : 3) } },
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
    const items = index === 0 ? [] : differences(option.model, options[0].model, (mm) => length_text(mm, job.units), 4);
    return make(
        "figure",
        { class: "option", "data-key": option.letter },
        option.url ? make("img", { src: option.url, alt: `Option ${option.letter}` }) : make("div", { class: "blank" }),
        make(
            "figcaption",
            {},
            make("strong", {}, `Option ${option.letter}`),
            items.length ? ` ${items.join(" · ")}` : "",
        ),
    );
}
