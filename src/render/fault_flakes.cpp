// Too few flakes, so that a coat looks patchy; too many, so that its colour turns milky.

#include "fadewright/film/sparkle.h"
#include "fadewright/render/dot_grain.h"
#include "fault_kinds.h"

#include <fmt/core.h>

#include <algorithm>

namespace fadewright::render {
namespace {

// Over dark grounds the chroma of titania on mica stops rising at some 3.7 crossings (film/pearl_test.cpp).
constexpr double kMilkyCrossings = 3.7;
constexpr double kBodyFilm = 0.5;  // of the greatest: below it a coat is meant to run out

// Flakes met by a straight line; only those that let light through to the next can turn milky.
double crossings(const paint::MixedPaint& mix, double film_um, bool clear_ones) {
    double sum = 0;
    for (const paint::Flakes& flakes : mix.flakes)
        if (!clear_ones || flakes.mirror->passed.front()[kGrainBand] > 0.2)
            sum += flakes.crossings_per_um * film_um;
    return sum;
}

}  // namespace

std::optional<Fault> flakes_fault(const plan::ReadyCoat& coat, const FaultGrid& grid,
                                  std::span<const double> film_um, Severities map) {
    double most = 0;
    std::size_t heaviest = 0;
    for (std::size_t i = 0; i < grid.size(); ++i)
        if (grid.inside(i) && film_um[i] > most) {
            most = film_um[i];
            heaviest = i;
        }
    if (crossings(coat.mix, most, false) <= 0) return std::nullopt;
    double patchy = 0, marked = 0;
    std::size_t thinnest = heaviest;
    for (std::size_t i = 0; i < grid.size(); ++i) {
        if (!grid.inside(i) || film_um[i] < kBodyFilm * most) continue;
        const double bare = film::patchy_figure(coat.mix.flakes, Micrometres{film_um[i]}).value_or(0);
        const double severity = std::max(
            severity_of(bare, 1, 2),
            severity_of(crossings(coat.mix, film_um[i], true), kMilkyCrossings, 2 * kMilkyCrossings));
        mark(map, i, severity);
        if (severity >= 1) marked += 1;
        if (bare > patchy) {
            patchy = bare;
            thinnest = i;
        }
    }
    const double heavy = crossings(coat.mix, most, true) / kMilkyCrossings;
    const bool milky = heavy > patchy;
    const std::size_t worst = milky ? heaviest : thinnest;
    Fault fault{FaultKind::flakes,
                coat.name,
                milky ? heavy : patchy,
                2,
                level_of(severity_of(milky ? heavy : patchy, 1, 2)),
                Millimetres{grid.x(worst)},
                Millimetres{grid.y(worst)},
                Share{marked / grid.cells_inside()},
                ""};
    if (milky)
        fault.words = fmt::format(
            "a ray meets {:.1f} flakes {}; beyond about {:.1f} more of them add milk, not "
            "colour",
            crossings(coat.mix, most, true), place_words(grid.units(), fault.x, fault.y), kMilkyCrossings);
    else
        fault.words = fmt::format("so few flakes {} that the coat {}: a ray meets {:.2f} of them",
                                  place_words(grid.units(), fault.x, fault.y),
                                  patchy >= 1 ? "looks patchy" : "just holds",
                                  crossings(coat.mix, film_um[thinnest], false));
    return fault;
}

}  // namespace fadewright::render
