// The library: its list, one item as a file, and a sheet of all paints.

#include "fadewright/app/commands.h"
#include "fadewright/plan/library_schema.h"
#include "fadewright/render/png.h"
#include "fadewright/report/swatch_sheet.h"
#include "outcome.h"
#include "shapes_sheet.h"

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

Outcome list(const plan::Library& library, std::optional<plan::LibraryKind> only, bool json) {
    nlohmann::ordered_json all = nlohmann::ordered_json::object();
    Outcome outcome;
    for (const plan::LibraryKind kind : plan::kLibraryKinds) {
        if (only && *only != kind) continue;
        const std::string folder(plan::folder_of(kind));
        outcome.out += folder + "\n";
        all[folder] = nlohmann::ordered_json::array();
        for (const std::string& name : library.names(kind)) {
            const std::string title = title_of(*library.file(kind, name));
            outcome.out += fmt::format("  {:<32} {}\n", name, title);
            all[folder].push_back({{"name", name}, {"title", title}});
        }
    }
    if (json) outcome.out = json_text(all);
    return outcome;
}

bool colours(const paint::Paint& paint) {
    return paint.role == paint::Role::opaque || paint.role == paint::Role::transparent ||
           paint.role == paint::Role::white || !paint.flakes.empty();
}

Outcome swatch_sheet(plan::Library& library, const LibraryRequest& request) {
    Diagnostics diagnostics;
    const paint::Paint* white = library.paint(plan::kDefaultWhite, diagnostics);
    const colour::Illuminant* day = library.light(plan::kDefaultLight, diagnostics);
    std::vector<formulation::PaintSwatches> paints;
    for (const std::string& name : library.names(plan::LibraryKind::paints)) {
        const paint::Paint* paint = library.paint(name, diagnostics);
        if (paint && white && day && colours(*paint))
            paints.push_back(formulation::swatches_of(*paint, *white, *day));
    }
    if (diagnostics.has_errors()) return failed(data_failure(diagnostics), request);
    const Picture picture = report::swatch_sheet(paints, "Paint library, in daylight");
    render::PngMetadata notes;
    notes.texts = {{"Title", "Paint library"}};
    Outcome outcome;
    add_artefact(outcome, request.sheet, render::png_bytes(picture, notes), request.json);
    return outcome;
}

Outcome shapes(plan::Library& library, const LibraryRequest& request) {
    Diagnostics diagnostics;
    const colour::Illuminant* day = library.light(plan::kDefaultLight, diagnostics);
    if (!day) return failed(data_failure(diagnostics), request);
    render::PngMetadata notes;
    notes.texts = {{"Title", "Effect paint library"}};
    Outcome outcome;
    add_artefact(outcome, request.shapes, render::png_bytes(shapes_sheet(library, *day), notes),
                 request.json);
    return outcome;
}

}  // namespace

Outcome library(Session& session, const LibraryRequest& request) {
    Result<plan::Library> opened = session.library();
    if (!opened) return failed(system_failure(opened.error()), request);
    plan::Library library = std::move(opened).value();
    if (!request.sheet.empty()) return swatch_sheet(library, request);
    if (!request.shapes.empty()) return shapes(library, request);
    if (request.item.empty()) return list(library, std::nullopt, request.json);
    std::vector<std::string> known;
    for (const plan::LibraryKind kind : plan::kLibraryKinds) {
        if (request.item == plan::folder_of(kind)) return list(library, kind, request.json);
        known.emplace_back(plan::folder_of(kind));
        if (const auto file = library.file(kind, request.item)) {
            Outcome outcome;
            outcome.out = file->text();
            return outcome;
        }
        for (const std::string& name : library.names(kind)) known.push_back(name);
    }
    const std::string_view close = closest_name(request.item, known);
    return failed(usage_failure(fmt::format("no such item in the library: '{}'", request.item),
                                close.empty() ? "fadewright library lists them"
                                              : fmt::format("did you mean '{}'?", close)),
                  request);
}

}  // namespace fadewright::app
