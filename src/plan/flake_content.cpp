#include "fadewright/plan/flake_content.h"

#include "fadewright/film/flake_layer.h"
#include "fadewright/plan/library_schema.h"
#include "fadewright/text/tree.h"
#include "flake_paint.h"

namespace fadewright::plan {
namespace {

constexpr double kLitre_mL = 1000;

// Flakes in the paint's file; it was read before, so its errors are already reported.
std::optional<FlakesFile> read_flakes(const std::string& name, const Library& library) {
    const std::shared_ptr<const Source> source = library.file(LibraryKind::paints, name);
    if (!source) return std::nullopt;
    Diagnostics known;
    const std::optional<ParsedTree> tree = read_toml(source, known);
    PaintFile file;
    if (!tree || !read_struct(*tree, file, known)) return std::nullopt;
    return file.flakes_file;
}

}  // namespace

std::optional<FlakeContent> flake_content(std::span<const paint::Part> parts, const Library& library,
                                          const std::optional<LoadingOverride>& other) {
    double volume = 0, grams = 0, powder_mL = 0;
    bool any = false;
    for (const paint::Part& part : parts) {
        volume += part.parts;
        if (part.paint->flakes.empty()) continue;
        std::optional<FlakesFile> file = read_flakes(part.paint->id, library);
        if (!file) continue;
        if (other && other->paint == part.paint->id) {
            file->loading = other->loading;
            file->teaspoons.reset();
        }
        any = true;
        const double loading = loading_of(*file).value;
        const double final_litres = 1 + loading / (flake_powder(*file).wet_density.value * kLitre_mL);
        grams += part.parts * loading / final_litres;
        powder_mL += part.parts * loading / final_litres / file->bulk_density.value;
    }
    if (!any || volume <= 0) return std::nullopt;
    FlakeContent content;
    content.in_mix = GramsPerLitre{grams / volume};
    content.level_teaspoons = powder_mL / volume / film::kTeaspoon.value;
    content.bulk_density = GramsPerMillilitre{powder_mL > 0 ? grams / powder_mL : 0};
    return content;
}

}  // namespace fadewright::plan
