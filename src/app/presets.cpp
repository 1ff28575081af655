// The shelf: what is on it, one thing of it as it stands, and a sheet of all paints.

#include "embedded.h"
#include "fadewright/app/commands.h"
#include "fadewright/plan/shelf_schema.h"
#include "fadewright/render/png.h"
#include "fadewright/report/swatch_sheet.h"
#include "forms_sheet.h"
#include "outcome.h"

#include <fmt/core.h>

#include <nlohmann/json.hpp>

namespace fadewright::app {
namespace {

// The title line of a file, without reading the rest.
std::string title_of(const Source& source) {
    for (std::size_t line = 1; line <= 40; ++line) {
        const std::string_view text = source.line(line);
        constexpr std::string_view kTitle = "title = \"";
        if (text.starts_with(kTitle))
            return std::string(text.substr(kTitle.size(), text.rfind('"') - kTitle.size()));
    }
    return "";
}

Outcome list(const plan::Shelf& shelf, std::optional<plan::ShelfKind> only, bool json) {
    nlohmann::ordered_json all = nlohmann::ordered_json::object();
    Outcome outcome;
    for (const plan::ShelfKind kind : plan::kShelfKinds) {
        if (only && *only != kind) continue;
        const std::string folder(plan::folder_of(kind));
        outcome.out += folder + "\n";
        all[folder] = nlohmann::ordered_json::array();
        for (const std::string& name : shelf.names(kind)) {
            const std::string title = title_of(*shelf.file(kind, name));
            outcome.out += fmt::format("  {:<32} {}\n", name, title);
            all[folder].push_back({{"name", name}, {"title", title}});
        }
    }
    if (json) outcome.out = all.dump(2) + "\n";
    return outcome;
}

bool colours(const paint::Paint& paint) {
    return paint.role == paint::Role::opaque || paint.role == paint::Role::transparent ||
           paint.role == paint::Role::white || !paint.flakes.empty();
}

Outcome sheet(plan::Shelf& shelf, const PresetsRequest& request) {
    Diagnostics diagnostics;
    const paint::Paint* white = shelf.paint("titanium-white", diagnostics);
    const colour::Light* day = shelf.light("day", diagnostics);
    std::vector<report::PaintSwatches> paints;
    for (const std::string& name : shelf.names(plan::ShelfKind::paints)) {
        const paint::Paint* paint = shelf.paint(name, diagnostics);
        if (paint && white && day && colours(*paint))
            paints.push_back(report::swatches_of(*paint, *white, *day));
    }
    if (diagnostics.has_errors()) return wrong_data(diagnostics, request.json);
    const Picture picture = report::swatch_sheet(paints, "Paints of the shelf, seen in daylight");
    render::PngNotes notes;
    notes.texts = {{"Title", "Paints of the shelf"}};
    const Result<Done> written = write_whole(request.sheet, render::png_bytes(picture, notes));
    if (!written) return refused(written.refusal());
    Outcome outcome;
    say_written(outcome, request.sheet, request.json);
    return outcome;
}

Outcome forms(plan::Shelf& shelf, const PresetsRequest& request) {
    Diagnostics diagnostics;
    const colour::Light* day = shelf.light("day", diagnostics);
    if (!day) return wrong_data(diagnostics, request.json);
    render::PngNotes notes;
    notes.texts = {{"Title", "Effect paints of the shelf"}};
    const Result<Done> written =
        write_whole(request.forms, render::png_bytes(forms_sheet(shelf, *day), notes));
    if (!written) return refused(written.refusal());
    Outcome outcome;
    say_written(outcome, request.forms, request.json);
    return outcome;
}

}  // namespace

Outcome presets(const PresetsRequest& request) {
    Result<plan::Shelf> opened = plan::Shelf::open(embedded_presets(), request.shelf);
    if (!opened) return refused(opened.refusal());
    plan::Shelf shelf = std::move(opened).value();
    if (!request.sheet.empty()) return sheet(shelf, request);
    if (!request.forms.empty()) return forms(shelf, request);
    if (request.what.empty()) return list(shelf, std::nullopt, request.json);
    std::vector<std::string> known;
    for (const plan::ShelfKind kind : plan::kShelfKinds) {
        if (request.what == plan::folder_of(kind)) return list(shelf, kind, request.json);
        known.emplace_back(plan::folder_of(kind));
        if (const auto file = shelf.file(kind, request.what)) return {Exit::fine, file->text(), ""};
        for (const std::string& name : shelf.names(kind)) known.push_back(name);
    }
    const std::string_view close = closest_name(request.what, known);
    return wrong_command(
        fmt::format("nothing on the shelf is called '{}'", request.what),
        close.empty() ? "fadewright presets lists the shelf" : fmt::format("did you mean '{}'?", close));
}

}  // namespace fadewright::app
