#include "fade_on_road.h"

#include "fade_road.h"
#include "fade_together.h"

#include <algorithm>

namespace fadewright::plan {
namespace {

constexpr std::size_t kFewestPlaces = 161, kPlacesToALine = 4;
constexpr double kNothing = 0.002;       // of a full film

// Where along u a coat is wished at all.
Band reach_of(const std::vector<WishedPlace>& wished, const std::vector<double>& u_mm, std::size_t coat,
              double full_um) {
    constexpr double kFar = std::numeric_limits<double>::infinity();
    Band band{kFar, kFar, -kFar, -kFar};
    for (std::size_t i = 0; i < u_mm.size(); ++i) {
        if (wished[i].films_um[coat] < kNothing * full_um) continue;
        band.up_mm = std::min(band.up_mm, u_mm[i]);
        band.gone_mm = std::max(band.gone_mm, u_mm[i]);
    }
    return band;
}

}  // namespace

std::optional<std::vector<Coat>> coats_on_road(const RoadFade& fade, Diagnostics& diagnostics) {
    const FadeGround& ground = fade.ground;
    const Fade& wish = *fade.coat.fade;
    const double half = 0.5 * ground.width_mm();
    const WishedWidth width{ten_to_ninety(Ramp::road) * ground.width_mm(), std::min(ground.lowest_mm(), -half),
                            std::max(ground.highest_mm(), half)};
    const FadeRoad road(fade.colours, films_along_road(fade.grades));
    const auto wished_at = [&](const std::vector<FadeSpot>& spots, std::vector<double>& u_mm) {
        for (const FadeSpot& spot : spots)
            u_mm.push_back(std::clamp(spot.u_mm, width.first_mm, width.last_mm));
        return wished_places(road, u_mm, width);
    };
    std::vector<double> coarse_u;
    const std::vector<WishedPlace> coarse = wished_at(ground.spots(kFewestPlaces), coarse_u);

    std::vector<Coat> coats;
    std::vector<std::vector<FadeLine>> lines;
    std::size_t most_lines = 0;
    for (std::size_t c = 0; c < fade.grades.grades.size(); ++c) {
        const Grade& grade = fade.grades.grades[c];
        coats.push_back(bare_coat(fade.coat, grade, fade.guns[c]));
        std::optional<std::vector<FadeLine>> found =
            lines_of(coats.back(), wish, reach_of(coarse, coarse_u, c, grade.film.value), fade.guns[c], ground,
                     diagnostics);
        if (!found) return std::nullopt;
        most_lines = std::max(most_lines, found->size());
        lines.push_back(std::move(*found));
    }
    const std::vector<FadeSpot> spots = ground.spots(std::max(kFewestPlaces, kPlacesToALine * most_lines));
    SpotsAcross across{{}, wish.start.has_value(), width.ten_to_ninety_mm, fade.view_distance};
    const std::vector<WishedPlace> wished = wished_at(spots, across.u_mm);
    std::vector<CoatLines> laid;
    for (std::size_t c = 0; c < coats.size(); ++c)
        laid.push_back({films_of(lines[c], spots, fade.guns[c], fade.dry_per_wet[c]),
                        fade.grades.grades[c].film.value,
                        {fade.guns[c].full, fade.coat.flow.has_value(), fade.guns[c].usual, 0}});
    const std::vector<Pace> paces = paced_together(laid, fade.colours, wished, across);
    for (std::size_t c = 0; c < coats.size(); ++c) {
        std::optional<Coat> paced =
            paced_coat(std::move(coats[c]), lines[c], paces[c], fade.guns[c], diagnostics);
        if (!paced) return std::nullopt;
        coats[c] = std::move(*paced);
    }
    return coats;
}

}  // namespace fadewright::plan
