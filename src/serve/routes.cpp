#include "fadewright/serve/routes.h"

#include <fmt/core.h>

#include <array>

namespace fadewright::serve {
namespace {

constexpr std::array kRoutes{
    Route{"GET", "/api/folder", "plans of the folder, and starter plans", "",
          "folder; plans: file, title, modified, valid (TOML without errors); starters: name, title, about"},
    Route{"GET", "/api/schema", "all fields of a plan", "",
          "for each section: about; fields: name, about, type, required, list, named, min, max, units, "
          "choices"},
    Route{"GET", "/api/library", "names that a plan can use", "",
          "paints: name, title, kind, over_white, over_black; guns; grounds; lights; shapes"},
    Route{"GET", "/api/events", "event stream (text/event-stream)", "",
          "event file-changed: file, sha256 of a plan that changed on disk (empty if it was deleted); event "
          "progress: task, fraction (0 to 1)"},
    Route{"POST", "/api/open", "a plan as saved on disk", "file", "file, text, sha256"},
    Route{"POST", "/api/create", "a new plan from a starter plan", "starter, file",
          "file, text, sha256; 409 if the file exists"},
    Route{"POST", "/api/save", "saves a plan, completely or not at all", "sha256; save_as: another file name",
          "file, sha256; 409 with changed_on_disk, text and sha256 if the file is not the one that was "
          "opened"},
    Route{"POST", "/api/check", "errors and warnings", "", "output of check --json, byte for byte"},
    Route{"POST", "/api/model", "the plan as the page shows it, without pictures", "",
          "valid, diagnostics, title, view, panel, frame, mixes, coats, paint_data"},
    Route{"POST", "/api/edit", "edits that leave the rest of the text as it is",
          "edits, in order, each one of: set and to (plan text); delete; move and before; add and copy_of; "
          "rename and to",
          "text; 422 with the reason if an edit is not possible; then none is made"},
    Route{"POST", "/api/picture", "picture of the panel; cancels an older one of the same page",
          "size; after: number of coats; hidden: list of coats; light; angle; shape; without_clear; overlay: "
          "film, defects or graininess; coat; wide_gamut; draft",
          "PNG; headers Fadewright-Frame (left in mm, top in mm, mm per pixel, width, height), "
          "Fadewright-Duration (ms), Fadewright-Note; 409 if cancelled"},
    Route{"POST", "/api/thumbnails", "small pictures of the panel after no coat, after the first, and so on",
          "height, light, task", "thumbnails: after, name, picture"},
    Route{"POST", "/api/forecast", "predicted result in sentences", "",
          "sentences: topic, text, severity (ok, check, problem), coat; figures"},
    Route{"POST", "/api/section", "colour and film build along a line",
          "from, to (default: across the fade), light",
          "from, to, at_mm, L, a, b, colours, films, at_10_mm, at_50_mm, at_90_mm, sentences"},
    Route{"POST", "/api/methods", "fade methods for the plan, compared", "task",
          "output of fade --json; the edits of a method fit /api/edit"},
    Route{"POST", "/api/tune", "search for a smoother fade", "task",
          "output of tune --json with edits for /api/edit; if cancelled, the best found so far"},
    Route{"POST", "/api/cancel", "cancels running requests", "task", "cancelled: their number"},
    Route{"POST", "/api/record", "job log; with an entry, adds it",
          "entry: mix, weights, batch_numbers, coat, film, at, gun, flow, speed, distance, needle_opening, "
          "air, temperature, humidity, note; texts or lists of texts",
          "output of record --list --json"},
    Route{"POST", "/api/export", "a file to print or send",
          "document: sheet, labels, proof, picture, template or record; format: pdf, html, csv, json, png or "
          "txt; paper: A4 or Letter; light; options of a proof: text of each; task",
          "the file"}};

}  // namespace

std::span<const Route> routes() { return kRoutes; }

std::string routes_markdown() {
    std::string out =
        "# HTTP interface between page and server\n\n"
        "`fadewright serve` answers these requests at the address it prints. Every request needs the cookie "
        "that this address sets. POST bodies are JSON objects. A request about a plan has `file` and `text` "
        "(the whole text of the plan as it is being edited), and may have `units` (metric, us) for the "
        "quantities in the answer. The header `Fadewright-Page` is a random id of the page; "
        "`Fadewright-Sequence` numbers its requests for pictures. Requests that take long may have a `task` "
        "id: progress events carry it, and `/api/cancel` cancels it (409 with `superseded`); closing the "
        "connection cancels it as well. Errors have status 400 or more with `error` and `hint`; for a plan "
        "with errors the status is 422, with `diagnostics`.\n\n"
        "| request | parameters | answer |\n|---|---|---|\n";
    for (const Route& route : kRoutes)
        out += fmt::format("| `{} {}` {} | {} | {} |\n", route.method, route.path, route.about,
                           route.parameters.empty() ? "–" : route.parameters, route.result);
    return out;
}

}  // namespace fadewright::serve
