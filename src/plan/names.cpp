#include "fadewright/plan/names.h"

#include "fadewright/text/schema.h"

#include <fmt/core.h>

namespace fadewright::plan {
namespace {

void report_unknown_item(std::string rule, std::string_view noun, LibraryKind kind,
                         const Located<std::string>& name, const Library& library, Diagnostics& diagnostics) {
    if (!library.file(kind, name.value))
        report_unknown(std::move(rule), noun, name, library.names(kind), diagnostics);
}

}  // namespace

void report_unknown(std::string rule, std::string_view noun, const Located<std::string>& name,
                    const std::vector<std::string>& known, Diagnostics& diagnostics) {
    const std::string_view close = closest_name(name.value, known);
    constexpr std::size_t kShown = 12;
    const std::string list =
        known.size() <= kShown ? "known: " + detail::join_text(known, ", ") : "the library lists all names";
    std::string hint = close.empty() ? list : fmt::format("did you mean '{}'?", close);
    if (known.empty()) hint = fmt::format("there is no {} in the library", noun);
    diagnostics.error(std::move(rule), name.span, fmt::format("no {} is called '{}'", noun, name.value),
                      std::move(hint));
}

const paint::Paint* find_paint(std::string rule, std::string_view noun, const Located<std::string>& name,
                               Library& library, Diagnostics& diagnostics) {
    const paint::Paint* paint = library.paint(name.value, diagnostics);
    if (!paint) report_unknown_item(std::move(rule), noun, LibraryKind::paints, name, library, diagnostics);
    return paint;
}

const Ground* find_ground(std::string rule, const Located<std::string>& name, Library& library,
                          Diagnostics& diagnostics) {
    const Ground* ground = library.ground(name.value, diagnostics);
    if (!ground)
        report_unknown_item(std::move(rule), "ground", LibraryKind::grounds, name, library, diagnostics);
    return ground;
}

const LibraryGun* find_gun(std::string rule, const Located<std::string>& name, Library& library,
                           Diagnostics& diagnostics) {
    const LibraryGun* gun = library.gun(name.value, diagnostics);
    if (!gun) report_unknown_item(std::move(rule), "gun", LibraryKind::guns, name, library, diagnostics);
    return gun;
}

const colour::Illuminant* find_light(std::string rule, const Located<std::string>& name, Library& library,
                                     Diagnostics& diagnostics) {
    const colour::Illuminant* light = library.light(name.value, diagnostics);
    if (!light)
        report_unknown_item(std::move(rule), "light", LibraryKind::lights, name, library, diagnostics);
    return light;
}

}  // namespace fadewright::plan
