// The ways a fade can be made, side by side (/api/ways): each laid on this panel, in few words, with its picture and the
// advice. Taking one changes the fade in the plan and nothing else. From here the best can be searched for (/api/tune).
import { draw, make, sheet_head } from "./draw.js";
import { begin_errand, errand_line } from "./errand.js";
import { change, job, quietly } from "./job.js";
import { ask, hang_up, picture } from "./server.js";
import { view_request } from "./sight.js";

const CARD_PX = 320;

let sheet = null;
let coat = null;
let found = null;  // the answer, with the picture of each way
let errand = null;
let searched = null;  // what the search found
let search = null;
let round = 0;

/** Opens the ways of that coat's fade. */
export function show_ways(of_coat) {
    if (!sheet) {
        sheet = make("dialog", { class: "sheet ways", "aria-labelledby": "ways-title", onclose: leave });
        document.body.append(sheet);
    }
    coat = of_coat;
    found = searched = null;
    show();
    sheet.showModal();
    fetch_ways();
}

function leave() {
    round += 1;
    for (const slot of ["ways", "tune", "way pictures"]) hang_up(slot);
    for (const { url } of cards()) if (url) URL.revokeObjectURL(url);
}

function question(one) {
    return { file: job.file, text: job.text, units: job.units, errand: one.name };
}

async function fetch_ways() {
    const mine = ++round;
    errand = begin_errand("ways", show);
    show();
    const answer = await quietly(() => ask("/api/ways", question(errand), "ways"));
    errand.end();
    errand = null;
    if (mine !== round) return;
    if (!answer) {
        if (!sheet.querySelector(".refused").textContent) sheet.close();  // stopped, not refused
        else show();
        return;
    }
    found = answer;
    show();
    await paint(found.ways, mine);
}

/** One picture after the other, as the panel is looked at now. */
async function paint(ways, mine) {
    for (const way of ways) {
        await quietly(async () => {
            const { text } = await ask("/api/change", { file: job.file, text: job.text, changes: way.edits });
            const request = { ...view_request(text), after: null, without: [], veil: null, size: CARD_PX };
            const { bytes } = await picture(request, "way pictures");
            way.url = URL.createObjectURL(bytes);
        });
        if (mine !== round) return;
        show();
    }
}

async function search_best() {
    const mine = round;
    search = begin_errand("tune", show);
    show();
    const answer = await quietly(() => ask("/api/tune", question(search), "tune"));
    search.end();
    search = null;
    if (mine !== round) return;
    if (answer) searched = { ...answer.after, name: "found by searching", edits: answer.edits, bought: answer.changes };
    show();
    sheet.querySelector(".way-card button, .search button")?.focus();
    if (searched) await paint([searched], mine);
}

async function take(way) {
    sheet.close();
    await change(way.edits, `${coat.name}: ${way.name}`);
}

/** The search's answer first, then the best, the next best and the others as they come. */
function cards() {
    if (!found) return [];
    const rank = ({ name }) => (name === found.best ? 0 : name === found.runner_up ? 1 : 2);
    return [searched, ...[...found.ways].sort((a, b) => rank(a) - rank(b))].filter(Boolean);
}

function show() {
    draw(
        sheet,
        sheet_head("ways-title", `Ways to make ${coat.name}`, () => sheet.close()),
        errand && errand_line(errand, "each way is laid on this panel"),
        found && make("p", { class: "advice" }, make("strong", {}, "Advice: "), `${found.advice}.`),
        found && make("ul", { class: "way-list" }, cards().map(card)),
        found?.not_made && make("ul", { class: "words" }, found.not_made.map(not_made)),
        found && searching(),
        make("div", { class: "refused", role: "alert", "data-key": "refused", "data-own": "yes" }),
    );
}

function not_made({ name, reason }) {
    return make("li", {}, make("strong", {}, `${name}: `), `cannot be made here. ${reason}`);
}

function card(way) {
    const in_plan = way.edits.length === 0;
    const mark = { [found.best]: "advised", [found.runner_up]: "next best" }[way.name];
    return make(
        "li",
        { class: way === cards()[0] ? "way-card best" : "way-card", "data-key": `way ${way.name}` },
        way.url ? make("img", { src: way.url, alt: "" }) : make("span", { class: "blank" }),
        make("h3", {}, way.name, mark && make("span", { class: "as" }, ` ${mark}`)),
        make("ul", { class: "words" }, (way.bought ?? []).map(bought), way.brief.map((words) => make("li", {}, words))),
        way.words && make("details", {}, make("summary", {}, "All it says"), way.words.map((each) => make("p", {}, each))),
        in_plan
            ? make("p", { class: "here" }, "in the plan now")
            : make(
                  "button",
                  { onclick: () => take(way), "aria-label": `Take this way: ${way.name}` },
                  "Take this way",
              ),
    );
}

function bought({ what, before, after }) {
    return make("li", {}, make("strong", {}, `${what} ${before} → ${after}`));
}

function searching() {
    if (search) {
        const stop = () => ask("/api/stop", { errand: search.name });
        return errand_line(search, "a smoother fade is searched for", "Stop, keep the best so far", stop);
    }
    return make(
        "div",
        { class: "search row", "data-key": "search" },
        make("button", { onclick: search_best }, searched ? "Search again" : "Search for a smoother one"),
        make("span", {}, "Turns the ratio, extension, width and overlap for you; up to a minute."),
    );
}
