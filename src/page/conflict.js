// The conflict dialog: the open plan and the file that was changed outside this window. Both are shown and the painter
// chooses; nothing is written before (/api/picture for each, then /api/save).
import { autosave, resolve_conflict } from "./autosave.js";
import { make, render } from "./dom.js";
import { guard_errors, job, on } from "./job.js";
import { request_picture } from "./server.js";

const picture_urls = { mine: null, other: null };
let dialog = null;

/** Creates the dialog; it opens by itself on a conflict. */
export function start_conflict() {
    dialog = make("dialog", {
        class: "dialog conflict",
        "aria-labelledby": "conflict-title",
        oncancel: (event) => event.preventDefault(),
    });
    document.body.append(dialog);
    on("save_state", (state) => (state === "conflict" ? open_dialog() : dialog.close()));
}

async function open_dialog() {
    show();
    if (!dialog.open) dialog.showModal();
    for (const plan_text of dialog.querySelectorAll(".plan-text")) {
        const first = plan_text.querySelector("ins");
        if (first) plan_text.scrollTop = first.offsetTop - plan_text.offsetTop - 60;
    }
    for (const [version, text] of [
        ["mine", job.text],
        ["other", autosave.other.text],
    ]) {
        await guard_errors(async () => {
            const { bytes } = await request_picture({ file: job.file, text, size: 480, draft: false }, "conflict");
            if (picture_urls[version]) URL.revokeObjectURL(picture_urls[version]);
            picture_urls[version] = URL.createObjectURL(bytes);
        });
        if (dialog.open) show();
    }
}

function show() {
    const other = autosave.other.text;
    render(
        dialog,
        make("h2", { id: "conflict-title" }, `${job.file} was changed outside this window`),
        make(
            "p",
            {},
            "Another program or person saved it while you had it open. Nothing has been overwritten. " +
                "Text that only one version has is marked.",
        ),
        make(
            "div",
            { class: "columns" },
            version_column("Your version", "mine", job.text, other, [
                make("button", { onclick: () => resolve_conflict("mine") }, "Keep mine"),
                make("button", { onclick: keep_copy }, "Keep mine as a copy"),
            ]),
            version_column("Saved file", "other", other, job.text, [
                make("button", { onclick: () => resolve_conflict("other") }, "Use the saved file"),
            ]),
        ),
        make("div", { class: "error", role: "alert", "data-unmanaged": "yes" }),
    );
}

function version_column(title, version, text, compared_text, buttons) {
    const compared_lines = new Set(compared_text.split("\n").map((line) => line.trim()));
    return make(
        "section",
        { "aria-label": title },
        make("h3", {}, title),
        picture_urls[version]
            ? make("img", { src: picture_urls[version], alt: `${title}: the panel` })
            : make("p", {}, "Drawing …"),
        make(
            "div",
            { class: "plan-text", tabindex: 0, role: "region", "aria-label": `${title}: the plan` },
            text.split("\n").map((line) => make(compared_lines.has(line.trim()) ? "div" : "ins", {}, line || " ")),
        ),
        make("div", { class: "row" }, buttons),
    );
}

function keep_copy() {
    const name = job.file.replace(/\.toml$/, "") + "-mine.toml";
    return guard_errors(() => resolve_conflict("copy", name));
}
