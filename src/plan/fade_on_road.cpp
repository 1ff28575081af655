#include "fade_on_road.h"

#include "fade_road.h"
#include "fade_seen.h"
#include "fade_together.h"
#include "fadewright/colour/delta_e.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace fadewright::plan {
namespace {

constexpr std::size_t kFewestPlaces = 161, kPlacesToALine = 4;
constexpr double kCloser = 0.5;     // lie the lines that passes are chosen from
constexpr double kNothing = 0.002;  // of a full film
// How much a* and b* may count along the road: little keeps L* free of bands where it goes one way, much where it
// turns back.
constexpr std::array kColourCounts{0.1, 0.3, 1.0};

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

double worst_stripe(const std::vector<WishedPlace>& wished, const SpotsAcross& spots) {
    std::vector<double> lightness, stripes(wished.size());
    for (const WishedPlace& place : wished) lightness.push_back(place.lab.L);
    Stripes(spots, wished).add(0, lightness, stripes.data());
    double worst = 0;
    for (const double stripe : stripes) worst = std::max(worst, std::abs(stripe));
    return worst;
}

// Measures the road so that the wished colours have the least bands.
std::vector<WishedPlace> smoothest(FadeRoad& road, const SpotsAcross& spots, const WishedWidth& width) {
    double least = std::numeric_limits<double>::infinity(), best = 1;
    for (const double counts : kColourCounts) {
        if (!spots.even) break;
        road.measure(counts);
        const double worst = worst_stripe(wished_places(road, spots.u_mm, width), spots);
        if (worst < least) least = worst, best = counts;
    }
    road.measure(best);
    return wished_places(road, spots.u_mm, width);
}

}  // namespace

bool has_road(const Grades& grades, const film::StackColour& colours) {
    const std::vector<std::vector<double>> films = films_along_road(grades);
    return colour::delta_e_76(colours.lab(films.front()), colours.lab(films.back())) >= kAlike_dE;
}

std::optional<std::vector<Coat>> coats_on_road(const RoadFade& fade, Diagnostics& diagnostics) {
    const FadeGround& ground = fade.ground;
    Fade wish = *fade.coat.fade;
    wish.overlap = Share{1 - kCloser * (1 - wish.overlap.value)};
    const double half = 0.5 * ground.width_mm();
    const WishedWidth width{ten_to_ninety(Ramp::road) * ground.width_mm(),
                            std::min(ground.lowest_mm(), -half), std::max(ground.highest_mm(), half)};
    FadeRoad road(fade.colours, films_along_road(fade.grades));
    const auto across = [&](const std::vector<FadeSpot>& spots) {
        SpotsAcross out{{}, wish.start.has_value(), width.ten_to_ninety_mm, fade.view_distance};
        for (const FadeSpot& spot : spots)
            out.u_mm.push_back(std::clamp(spot.u_mm, width.first_mm, width.last_mm));
        return out;
    };
    const SpotsAcross coarse = across(ground.spots(kFewestPlaces));
    const std::vector<WishedPlace> coarsely = smoothest(road, coarse, width);

    std::vector<Coat> coats;
    std::vector<std::vector<FadeLine>> lines;
    std::size_t most_lines = 0;
    for (std::size_t c = 0; c < fade.grades.grades.size(); ++c) {
        const Grade& grade = fade.grades.grades[c];
        coats.push_back(bare_coat(fade.coat, grade, fade.guns[c]));
        std::optional<std::vector<FadeLine>> found =
            lines_of(coats.back(), wish, reach_of(coarsely, coarse.u_mm, c, grade.film.value), fade.guns[c],
                     ground, diagnostics);
        if (!found) return std::nullopt;
        most_lines = std::max(most_lines, found->size());
        lines.push_back(std::move(*found));
    }
    const std::vector<FadeSpot> spots = ground.spots(std::max(kFewestPlaces, kPlacesToALine * most_lines));
    const SpotsAcross finely = across(spots);
    const std::vector<WishedPlace> wished = wished_places(road, finely.u_mm, width);
    std::vector<CoatLines> laid;
    for (std::size_t c = 0; c < coats.size(); ++c)
        laid.push_back({films_of(lines[c], spots, fade.guns[c], fade.dry_per_wet[c]),
                        fade.grades.grades[c].film.value,
                        {fade.guns[c].full, fade.coat.flow.has_value(), fade.guns[c].usual, 0}});
    const std::vector<Pace> paces = paced_together(laid, fade.colours, wished, finely);
    for (std::size_t c = 0; c < coats.size(); ++c) {
        std::optional<Coat> paced =
            paced_coat(std::move(coats[c]), lines[c], paces[c], fade.guns[c], diagnostics);
        if (!paced) return std::nullopt;
        coats[c] = std::move(*paced);
    }
    return coats;
}

}  // namespace fadewright::plan
