// Too few flakes make a coat patchy; too many make it milky.

#include "defect_kinds.h"
#include "fadewright/film/sparkle.h"
#include "fadewright/render/dot_graininess.h"

#include <algorithm>

namespace fadewright::assess {
namespace {

constexpr double kBodyFilm = 0.5;  // of the thickest: below it a coat is meant to fade out

// Flake layers on average; only flakes that transmit light to the next can turn a coat milky.
double platelet_hits(const paint::MixedPaint& mix, double film_um, bool transparent_only) {
    double sum = 0;
    for (const paint::EffectPigment& flakes : mix.flakes)
        if (!transparent_only || flakes.optics->transmitted.front()[colour::kGreenBand] > 0.2)
            sum += flakes.platelet_hits_per_um * film_um;
    return sum;
}

}  // namespace

std::optional<Defect> flakes_defect(const plan::ResolvedCoat& coat, const PanelGrid& grid,
                                    std::span<const double> film_um, SeverityScores map) {
    double max_film = 0;
    std::size_t heaviest = 0;
    for (std::size_t i = 0; i < grid.size(); ++i)
        if (grid.inside(i) && film_um[i] > max_film) {
            max_film = film_um[i];
            heaviest = i;
        }
    if (platelet_hits(coat.mix, max_film, false) <= 0) return std::nullopt;
    double max_patchiness = 0, affected = 0;
    std::size_t thinnest = heaviest;
    for (std::size_t i = 0; i < grid.size(); ++i) {
        if (!grid.inside(i) || film_um[i] < kBodyFilm * max_film) continue;
        const double patchiness =
            film::patchiness_index(coat.mix.flakes, Micrometres{film_um[i]}).value_or(0);
        const double score = std::max(severity_score(patchiness, 1, 2),
                                      severity_score(platelet_hits(coat.mix, film_um[i], true),
                                                     kMaxPlateletHits, 2 * kMaxPlateletHits));
        raise_score(map, i, score);
        if (score >= 1) affected += 1;
        if (patchiness > max_patchiness) {
            max_patchiness = patchiness;
            thinnest = i;
        }
    }
    const double hit_ratio = platelet_hits(coat.mix, max_film, true) / kMaxPlateletHits;
    const bool too_many = hit_ratio > max_patchiness;
    const std::size_t worst = too_many ? heaviest : thinnest;
    const FlakeFigures figures =
        too_many ? FlakeFigures{FlakeDefect::milky, platelet_hits(coat.mix, max_film, true)}
                 : FlakeFigures{max_patchiness >= 1 ? FlakeDefect::patchy : FlakeDefect::barely_covering,
                                platelet_hits(coat.mix, film_um[thinnest], false)};
    return Defect{DefectKind::flakes,
                  coat.name,
                  too_many ? hit_ratio : max_patchiness,
                  2,
                  to_severity(severity_score(too_many ? hit_ratio : max_patchiness, 1, 2)),
                  Millimetres{grid.x(worst)},
                  Millimetres{grid.y(worst)},
                  Share{affected / grid.cells_inside()},
                  figures};
}

}  // namespace fadewright::assess
