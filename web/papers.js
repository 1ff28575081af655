// Papers of the job to keep, print or send: what goes to the booth, to the client, to the cutter (/api/paper).
import { draw, make, say, sheet_head } from "./draw.js";
import { begin_errand, errand_line } from "./errand.js";
import { job, quietly } from "./job.js";
import { looks } from "./pins.js";
import { paper } from "./server.js";
import { view_request } from "./sight.js";

const PAPERS = [
    {
        what: "sheet",
        as: "pdf",
        name: "Booth sheet",
        about: "how much to mix, grams in pouring order, a page for every coat",
    },
    { what: "labels", as: "pdf", name: "Labels", about: "for the cups" },
    { what: "proof", as: "pdf", name: "Proof", about: "for the client, all pinned looks, with a box to sign" },
    { what: "proof", as: "html", name: "Proof to send", about: "one file that opens in any browser" },
    { what: "template", as: "pdf", name: "Outline at true size", about: "to cut a stencil, or lay over the piece" },
    { what: "record", as: "txt", name: "Record", about: "what was really done, as far as it has been noted" },
    { what: "picture", as: "png", name: "Picture", about: "the panel as it is looked at now" },
];

let sheet = null;
let making = null;
let errand = null;

/** Opens the papers. */
export function show_papers() {
    if (!sheet) {
        sheet = make("dialog", { class: "sheet papers", "aria-labelledby": "papers-title" });
        document.body.append(sheet);
    }
    show();
    sheet.showModal();
}

function show() {
    draw(
        sheet,
        sheet_head("papers-title", "Papers", () => sheet.close()),
        make(
            "ul",
            { class: "paper-list" },
            PAPERS.map((each) =>
                make(
                    "li",
                    { "data-key": `${each.what} ${each.as}` },
                    make(
                        "button",
                        {
                            onclick: () => fetch_paper(each),
                            disabled: making !== null,
                        },
                        make("strong", {}, each.name),
                        make("span", { class: "as" }, each.as.toUpperCase()),
                        make("span", {}, each.about),
                    ),
                    making === each && errand_line(errand, "being made"),
                ),
            ),
        ),
        make(
            "p",
            {},
            "They are made of the job as it lies on the bench now. Only a sprayed and signed sample approves a colour.",
        ),
        make("div", { class: "refused", role: "alert", "data-key": "refused", "data-own": "yes" }),
    );
}

/** The proof is made of all looks, side by side when there are several; the rest of the one on the bench. */
function request({ what, as }) {
    const all = { ...view_request(), units: job.units, paper: job.units === "us" ? "Letter" : "A4", what, as };
    if (what === "picture") return { ...all, size: 2560 };
    return what === "proof" ? { ...all, plans: looks().map(({ text }) => ({ text })) } : all;
}

async function fetch_paper(each) {
    making = each;
    errand = begin_errand("paper", show);
    show();
    sheet.querySelector(".refused").replaceChildren();
    await quietly(async () => {
        const { bytes, name } = await paper({ ...request(each), errand: errand.name });
        const link = make("a", { href: URL.createObjectURL(bytes), download: name });
        link.click();
        setTimeout(() => URL.revokeObjectURL(link.href), 60000);
        say(`${name} is in your downloads`);
    });
    errand.end();
    making = null;
    show();
    sheet.querySelector(`[data-key="${each.what} ${each.as}"] button`).focus();
}
