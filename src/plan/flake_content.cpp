#include "fadewright/plan/flake_content.h"

#include "fadewright/film/flake_layer.h"
#include "fadewright/plan/shelf_schema.h"
#include "fadewright/text/tree.h"
#include "flake_paint.h"

namespace fadewright::plan {
namespace {

constexpr double kLitre_mL = 1000;

// What the paint's file says of its flakes; it has been read before, so that its mistakes are known.
std::optional<FlakesFile> flakes_of(const std::string& name, const Shelf& shelf) {
    const std::shared_ptr<const Source> source = shelf.file(ShelfKind::paints, name);
    if (!source) return std::nullopt;
    Diagnostics known;
    const std::optional<ReadTree> tree = read_toml(source, known);
    PaintFile file;
    if (!tree || !read_thing(*tree, file, known)) return std::nullopt;
    return file.flakes_file;
}

}  // namespace

std::optional<FlakeContent> flake_content(std::span<const paint::Part> parts, const Shelf& shelf,
                                          const std::optional<OtherLoading>& other) {
    double volume = 0, grams = 0, heaped_mL = 0;
    bool any = false;
    for (const paint::Part& part : parts) {
        volume += part.parts;
        if (part.paint->flakes.empty()) continue;
        std::optional<FlakesFile> file = flakes_of(part.paint->id, shelf);
        if (!file) continue;
        if (other && other->paint == part.paint->id) {
            file->loading = other->loading;
            file->teaspoons.reset();
        }
        any = true;
        const double stirred = loading_of(*file).value;
        const double whole = 1 + stirred / (dry_flakes(*file).wet_density.value * kLitre_mL);
        grams += part.parts * stirred / whole;
        heaped_mL += part.parts * stirred / whole / file->heaped_density.value;
    }
    if (!any || volume <= 0) return std::nullopt;
    FlakeContent content;
    content.in_mix = GramsPerLitre{grams / volume};
    content.level_teaspoons = heaped_mL / volume / film::kTeaspoon.value;
    content.heaped_density = GramsPerMillilitre{heaped_mL > 0 ? grams / heaped_mL : 0};
    return content;
}

}  // namespace fadewright::plan
