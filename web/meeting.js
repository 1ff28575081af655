// Two versions of one plan: the one on the bench and the one that somebody saved meanwhile. Both are shown, the painter
// chooses; nothing is written before (/api/picture twice, then /api/save).
import { draw, make } from "./draw.js";
import { job, on, quietly } from "./job.js";
import { keeping, settle } from "./keeping.js";
import { picture } from "./server.js";

const shown = { mine: null, theirs: null };
let sheet = null;

/** Opens by itself when two versions meet. */
export function start_meeting() {
    sheet = make("dialog", {
        class: "sheet meeting",
        "aria-labelledby": "meeting-title",
        oncancel: (e) => e.preventDefault(),
    });
    document.body.append(sheet);
    on("keeping", (state) => (state === "met" ? open() : sheet.close()));
}

async function open() {
    show();
    if (!sheet.open) sheet.showModal();
    for (const lines of sheet.querySelectorAll(".lines")) {
        const first = lines.querySelector("ins");
        if (first) lines.scrollTop = first.offsetTop - lines.offsetTop - 60;
    }
    for (const [which, text] of [
        ["mine", job.text],
        ["theirs", keeping.theirs.text],
    ]) {
        await quietly(async () => {
            const { bytes } = await picture({ file: job.file, text, size: 480, draft: false }, "meeting");
            if (shown[which]) URL.revokeObjectURL(shown[which]);
            shown[which] = URL.createObjectURL(bytes);
        });
        if (sheet.open) show();
    }
}

function show() {
    const theirs = keeping.theirs.text;
    draw(
        sheet,
        make("h2", { id: "meeting-title" }, `${job.file} was changed elsewhere`),
        make(
            "p",
            {},
            "Somebody saved this plan while it lay on the bench. Nothing has been written over. Lines that only one of them has are marked.",
        ),
        make(
            "div",
            { class: "two" },
            side("On the bench", "mine", job.text, theirs, [
                make("button", { onclick: () => settle("mine") }, "Keep the bench's"),
                make("button", { onclick: aside }, "Keep the bench's under another name"),
            ]),
            side("On disk", "theirs", theirs, job.text, [
                make("button", { onclick: () => settle("theirs") }, "Take the one on disk"),
            ]),
        ),
        make("div", { class: "refused", role: "alert", "data-own": "yes" }),
    );
}

function side(title, which, text, other, buttons) {
    const lines = new Set(other.split("\n").map((line) => line.trim()));
    return make(
        "section",
        { "aria-label": title },
        make("h3", {}, title),
        shown[which]
            ? make("img", { src: shown[which], alt: `${title}: the panel` })
            : make("p", {}, "The picture is coming …"),
        make(
            "div",
            { class: "lines", tabindex: 0, role: "region", "aria-label": `${title}: the plan` },
            text.split("\n").map((line) => make(lines.has(line.trim()) ? "div" : "ins", {}, line || " ")),
        ),
        make("div", { class: "row" }, buttons),
    );
}

function aside() {
    const name = job.file.replace(/\.toml$/, "") + "-bench.toml";
    return quietly(() => settle("aside", name));
}
