#include "fade_passes.h"

#include "coat_gun.h"
#include "fadewright/spray/deposit.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <type_traits>

namespace fadewright::plan {
namespace {

constexpr Degrees kUsualTilt{30};  // of a burst; starting value
constexpr std::size_t kMostLines = 400;
constexpr std::size_t kMostFollows = 200;  // that one coat of a plan may have
constexpr std::size_t kFewestSpots = 300, kSpotsToALine = 12;
// Of the largest amount; less is not worth a pass. A strong paint is seen where little of it lies.
constexpr double kSmallest = 0.03, kSmallestSeen = 0.004;

// Of each line, in passes at 1 mm/s. Lines that hardly meet the panel get nothing.
std::vector<double> amounts_of(const std::vector<FadeLine>& lines, const Grade& grade, const Growth& growth,
                               const SetGun& set, const FadeGround& ground, double dry, double smallest) {
    const std::vector<FadeSpot> spots = ground.spots(std::max(kFewestSpots, kSpotsToALine * lines.size()));
    std::vector<double> wished, weights;
    for (const FadeSpot& spot : spots) {
        const double share = grade.band.share(spot.u_mm, growth);
        weights.push_back(growth.weight(share));
        wished.push_back(weights.back() * grade.film.value * share);
    }
    std::vector<std::vector<double>> films = films_of(lines, spots, set, dry);
    const std::vector<bool> meet = meet_panel(films);
    for (std::size_t i = 0; i < films.size(); ++i)
        for (std::size_t k = 0; k < weights.size(); ++k) films[i][k] *= meet[i] ? weights[k] : 0;
    const std::vector<double> first = fitted_amounts(films, wished);
    // What is too little for a pass is left out, and the others make up for it.
    const double largest = first.empty() ? 0 : *std::max_element(first.begin(), first.end());
    for (std::size_t i = 0; i < films.size(); ++i)
        if (first[i] < smallest * largest) std::fill(films[i].begin(), films[i].end(), 0);
    return fitted_amounts(films, wished);
}

template <class Movement>
void lay(Movement movement, const Stroke& stroke, Coat& coat) {
    movement.speed = stroke.speed;
    movement.repeats = stroke.repeats;
    if constexpr (std::is_same_v<Movement, Pass>) {
        coat.passes.push_back(std::move(movement));
    } else {
        coat.follows.push_back(std::move(movement));
    }
}

}  // namespace

std::optional<std::vector<FadeLine>> lines_of(const Coat& bare, const Fade& fade, const Band& band,
                                              const SetGun& set, const FadeGround& ground,
                                              Diagnostics& diagnostics) {
    Coat laid = bare;
    laid.speed = MillimetresPerSecond{1};
    const double width = spray::pass_width(set.gun, bare.distance).value;
    double spacing = (1 - fade.overlap.value) * width;
    const double whole = spacing >= 10 ? 1 : 0.1;
    spacing = std::max(whole, std::round(spacing / whole) * whole);
    const double scale = spray::distance_scale(set.gun, bare.distance);
    const Reach reach{0.75 * width, 3 * scale * spray::spread_of(set.gun).along_mm};
    double from = std::max(band.up_mm, ground.lowest_mm()) - 0.5 * width;
    const double to = std::min(band.gone_mm, ground.highest_mm()) + 0.5 * width;
    if (fade.method == FadeMethod::burst) from = std::max(from, 0.0);
    const std::size_t most = fade.start ? kMostLines : kMostFollows;
    if ((to - from) / spacing >= static_cast<double>(most)) {
        diagnostics.error(
            "P030", fade.place,
            fmt::format("'{}' would take {:.0f} passes in one coat", set.name.value, (to - from) / spacing),
            fmt::format("at most {}; lower the overlap, or take a wider gun", most));
        return std::nullopt;
    }
    std::vector<FadeLine> lines;
    const long first = std::lround(std::ceil(from / spacing)), last = std::lround(std::floor(to / spacing));
    for (long k = first; k <= last; ++k)
        if (auto line = ground.line(static_cast<double>(k) * spacing, k % 2 != 0, reach, tilt_of(fade),
                                    {set.usual, &laid}))
            lines.push_back(std::move(*line));
    return lines;
}

std::vector<std::vector<double>> films_of(const std::vector<FadeLine>& lines,
                                          const std::vector<FadeSpot>& spots, const SetGun& set, double dry) {
    std::vector<std::vector<double>> films;
    for (const FadeLine& line : lines) {
        const spray::Deposit deposit(set.gun, line.laid);
        std::vector<double>& film = films.emplace_back();
        for (const FadeSpot& spot : spots) film.push_back(dry * deposit.wet_um(spot.x_mm, spot.y_mm));
    }
    return films;
}

SetGun set_gun(const Coat& coat, const Placed<std::string>& name, const ShelfGun& gun) {
    return {name, gun_for(coat, gun.gun), coat.speed.value_or(gun.speed), coat.flow.value_or(gun.gun.flow)};
}

Degrees tilt_of(const Fade& fade) {
    return fade.method == FadeMethod::burst ? fade.tilt.value_or(kUsualTilt) : Degrees{};
}

double edge_mm(const Coat& coat, const SetGun& set, Degrees tilt) {
    constexpr int kSteps = 2000;
    const double side = (tilt.value == 0 ? 1.7 : 4.0) * spray::pass_width(set.gun, coat.distance).value;
    Pass pass;
    pass.tilt = tilt;
    pass.path = {{Millimetres{-20 * side}, Millimetres{}}, {Millimetres{20 * side}, Millimetres{}}};
    const spray::Pass laid = to_spray(pass, {set.usual, &coat});
    const spray::Deposit deposit(set.gun, {&laid, 1});
    const double step = 2 * side / kSteps;
    std::vector<double> film;
    for (int i = 0; i <= kSteps; ++i) film.push_back(deposit.wet_um(0, -side + step * i));
    return edge_width_mm(film, step);
}

Coat bare_coat(const Coat& coat, const Grade& grade, const SetGun& set) {
    Coat bare = coat;
    bare.fade.reset();
    bare.name = coat.name + ": " + grade.label;
    bare.mix = {grade.mix, coat.fade->place};
    bare.gun = set.name;
    bare.speed.reset();
    if (grade.fogged) bare.laydown = Laydown::fog;
    return bare;
}

std::optional<Coat> paced_coat(Coat bare, const std::vector<FadeLine>& lines, const Pace& pace,
                               const SetGun& set, Diagnostics& diagnostics) {
    if (pace.flow != set.full) bare.flow = pace.flow;
    for (std::size_t i = 0; i < lines.size(); ++i)
        if (pace.strokes[i])
            std::visit([&](const auto& movement) { lay(movement, *pace.strokes[i], bare); },
                       lines[i].written);
    if (!bare.passes.empty() || !bare.follows.empty()) return bare;
    diagnostics.error("P030", bare.mix.place,
                      fmt::format("nothing of '{}' would be laid on the panel", bare.mix.value),
                      "move the fade onto the panel");
    return std::nullopt;
}

std::optional<Coat> graded_coat(const Coat& coat, const Grade& grade, const Growth& growth, const SetGun& set,
                                const FadeGround& ground, double dry, Diagnostics& diagnostics) {
    const Fade& fade = *coat.fade;
    Coat bare = bare_coat(coat, grade, set);
    const std::optional<std::vector<FadeLine>> lines =
        lines_of(bare, fade, grade.band, set, ground, diagnostics);
    if (!lines) return std::nullopt;
    const double smallest = fade.ramp == Ramp::seen ? kSmallestSeen : kSmallest;
    const Pace pace = paced(amounts_of(*lines, grade, growth, set, ground, dry, smallest),
                            {set.full, coat.flow.has_value(), set.usual, smallest});
    return paced_coat(std::move(bare), *lines, pace, set, diagnostics);
}

}  // namespace fadewright::plan
