#include "fadewright/serve/routes.h"

#include <fmt/core.h>

#include <array>

namespace fadewright::serve {
namespace {

constexpr std::array kRoutes{
    Route{"GET", "/api/folder", "the plans of the folder, and what to begin with", "",
          "folder; plans: file, title, changed, sound (no slips of TOML); starts: name, title, about"},
    Route{
        "GET", "/api/fields", "every field that a plan may have, from the plan's schema", "",
        "for each thing: about, fields with name, about, type, required, list, named, lowest, highest, units "
        "or choices"},
    Route{"GET", "/api/shelf", "what a plan may name", "",
          "paints with their looks over white and black, guns, grounds, lights, forms"},
    Route{"GET", "/api/events", "what pages are told without asking, as text/event-stream", "",
          "event changed: file and stamp of a plan that changed on disk; an empty stamp: it is gone; "
          "event progress: errand and share, 0 to 1, of an answer under way"},
    Route{"POST", "/api/open", "a plan as it is on disk", "file", "file, text, stamp (SHA-256 of the bytes)"},
    Route{"POST", "/api/begin", "a new plan from a starting point", "start, file",
          "file, text, stamp; 409 if there is one of that name"},
    Route{"POST", "/api/save", "writes a plan, whole or not at all", "stamp; as: another name",
          "file, stamp; 409 with changed_on_disk, text and stamp if the file is not the one that was opened"},
    Route{"POST", "/api/check", "what is wrong", "", "the very bytes of check --json"},
    Route{"POST", "/api/look", "everything that is shown but pictures", "",
          "good, diagnostics, title, view, panel, frame, pots, coats, paint_data"},
    Route{"POST", "/api/change", "edits that leave the rest of the text as it was written",
          "changes, in order, each one of: set and to (plan text); take_out; move and before; add and "
          "like; rename "
          "and to",
          "text; 422 and why if one of them cannot be made: then none is"},
    Route{
        "POST", "/api/picture", "the panel as it will look; a newer question of the same page ends this one",
        "size, after (coats), without (coats), light, angle, form, before_clear, veil (film, faults, grain), "
        "coat, wide_gamut, draft",
        "PNG; headers Bench-Frame (left mm, top mm, mm to a pixel, width, height), Bench-Took (ms), "
        "Bench-Note; "
        "409 if a newer one was asked for"},
    Route{"POST", "/api/strip", "the panel after no coat, after the first, and so on",
          "height, light, errand", "steps: after, name, picture"},
    Route{"POST", "/api/happen", "what will happen, in sentences with figures", "",
          "sentences: about, words, grave (fine, note, wrong), coat; figures"},
    Route{"POST", "/api/section", "colours and films along a line", "from, to (else across the fade), light",
          "from, to, at_mm, L, a, b, colour, films, at_10_mm, at_half_mm, at_90_mm, words"},
    Route{"POST", "/api/ways", "the ways of making the plan's fade, compared", "errand",
          "the answer of fade --json; the edits of each way are changes as /api/change takes them"},
    Route{"POST", "/api/tune", "the search for a smoother fade", "errand",
          "the answer of tune --json, with edits as those of a way; stopped, the best so far"},
    Route{"POST", "/api/stop", "ends answers under way", "errand: the name that they were asked under",
          "stopped: how many there were"},
    Route{"POST", "/api/record", "what was really mixed and sprayed; adds to it what is given",
          "entry: the options of record by their names, texts or lists of texts",
          "the answer of record --list --json"},
    Route{
        "POST", "/api/paper", "files to take away, made by the commands of the same names",
        "what (sheet, labels, proof, picture, template, record), as (pdf, html, csv, json, png, txt), paper "
        "(A4, Letter), light, plans (of a proof: a text for each option), errand",
        "the file"}};

}  // namespace

std::span<const Route> routes() { return kRoutes; }

std::string routes_markdown() {
    std::string out =
        "# What the page asks the bench\n\n"
        "`fadewright serve` answers these on the address that it prints. Every question needs the cookie "
        "that the "
        "printed address sets; POST bodies are JSON objects. A question about a plan carries `file` and "
        "`text`, the "
        "plan's whole text as it is being edited, and may say in which `units` (metric, us) it is told of "
        "quantities; the header `Bench-Page` tells pages apart, and a rising "
        "`Bench-Turn` tells which picture is the newest. What may take long is told of under the name given "
        "as `errand`, ends when "
        "`/api/stop` says so (then it is 409 with `superseded`), and when the page hangs up. A refusal is "
        "`refused` and `hint` with a "
        "status of "
        "400 or more; a plan that is not in order gets 422 and `diagnostics`.\n\n"
        "| question | takes | gives |\n|---|---|---|\n";
    for (const Route& q : kRoutes)
        out += fmt::format("| `{} {}` {} | {} | {} |\n", q.method, q.path, q.about,
                           q.parameters.empty() ? "–" : q.parameters, q.result);
    return out;
}

}  // namespace fadewright::serve
