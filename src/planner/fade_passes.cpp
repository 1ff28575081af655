#include "fade_passes.h"

#include "fadewright/spray/deposit.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <type_traits>

namespace fadewright::planner {
namespace {

constexpr Degrees kDefaultHeelAngle{30};  // of a burst; starting value
constexpr std::size_t kMaxLines = 400;
constexpr std::size_t kMaxOutlinePasses = 200;  // limit of one coat
constexpr std::size_t kMinPassSamples = 300, kSamplesPerPassLine = 12;
// Of the largest amount; a smaller one is left out. Strong paint is visible in thin films.
constexpr double kMinAmountShare = 0.03, kMinPerceptualShare = 0.004;

// Amounts per line, in passes at 1 mm/s. Lines that hardly reach the panel get nothing.
std::vector<double> amounts_of(const std::vector<FadeLine>& lines, const FadeCoat& fade_coat,
                               const RampProfile& profile, const FadeGun& fade_gun,
                               const FadeGeometry& geometry, double dry_per_wet, double min_amount_share) {
    const std::vector<FadeSample> samples =
        geometry.samples(std::max(kMinPassSamples, kSamplesPerPassLine * lines.size()));
    std::vector<double> target_film, weights;
    for (const FadeSample& sample : samples) {
        const double share = fade_coat.zone.share(sample.u_mm, profile);
        weights.push_back(profile.error_weight(share));
        target_film.push_back(weights.back() * fade_coat.film.value * share);
    }
    std::vector<std::vector<double>> films = line_films(lines, samples, fade_gun, dry_per_wet);
    const std::vector<bool> reaches = lines_reaching_panel(films);
    for (std::size_t i = 0; i < films.size(); ++i)
        for (std::size_t k = 0; k < weights.size(); ++k) films[i][k] *= reaches[i] ? weights[k] : 0;
    const std::vector<double> first = fit_amounts(films, target_film);
    // Amounts too small for a pass are left out, and the others are fitted again.
    const double largest = first.empty() ? 0 : *std::max_element(first.begin(), first.end());
    for (std::size_t i = 0; i < films.size(); ++i)
        if (first[i] < min_amount_share * largest) std::fill(films[i].begin(), films[i].end(), 0);
    return fit_amounts(films, target_film);
}

template <class Movement>
void add_movement(Movement movement, const SpeedAndRepeats& setting, plan::Coat& coat) {
    movement.speed = setting.speed;
    movement.repeats = setting.repeats;
    if constexpr (std::is_same_v<Movement, plan::Pass>) {
        coat.passes.push_back(std::move(movement));
    } else {
        coat.outline_passes.push_back(std::move(movement));
    }
}

}  // namespace

std::optional<std::vector<FadeLine>> candidate_lines(const plan::Coat& stage, const plan::Fade& fade,
                                                     const RampZone& zone, const FadeGun& fade_gun,
                                                     const FadeGeometry& geometry, Diagnostics& diagnostics) {
    plan::Coat trial = stage;
    trial.speed = MillimetresPerSecond{1};
    const double width = spray::pass_width(fade_gun.gun, stage.distance).value;
    double spacing = (1 - fade.overlap.value) * width;
    const double rounding = spacing >= 10 ? 1 : 0.1;
    spacing = std::max(rounding, std::round(spacing / rounding) * rounding);
    const double scale = spray::distance_scale(fade_gun.gun, stage.distance);
    const Reach reach{0.75 * width, 3 * scale * spray::spread_of(fade_gun.gun).along_mm};
    double from = std::max(zone.rise_start_mm, geometry.min_u_mm()) - 0.5 * width;
    const double to = std::min(zone.fall_end_mm, geometry.max_u_mm()) + 0.5 * width;
    if (fade.method == plan::FadeMethod::burst) from = std::max(from, 0.0);
    const std::size_t max_count = fade.start ? kMaxLines : kMaxOutlinePasses;
    if ((to - from) / spacing >= static_cast<double>(max_count)) {
        diagnostics.error(
            "P030", fade.span,
            fmt::format("'{}' would need {:.0f} passes in one coat", fade_gun.name.value,
                        (to - from) / spacing),
            fmt::format("at most {}: lower the overlap, or use a gun with a wider pattern", max_count));
        return std::nullopt;
    }
    std::vector<FadeLine> lines;
    const long first = std::lround(std::ceil(from / spacing)), last = std::lround(std::floor(to / spacing));
    for (long k = first; k <= last; ++k)
        if (auto line = geometry.line_at(static_cast<double>(k) * spacing, k % 2 != 0, reach,
                                         fade_heel_angle(fade), {fade_gun.default_speed, &trial}))
            lines.push_back(std::move(*line));
    return lines;
}

std::vector<std::vector<double>> line_films(const std::vector<FadeLine>& lines,
                                            const std::vector<FadeSample>& samples, const FadeGun& fade_gun,
                                            double dry_per_wet) {
    std::vector<std::vector<double>> films;
    for (const FadeLine& line : lines) {
        const spray::Deposit deposit(fade_gun.gun, line.passes);
        std::vector<double>& film = films.emplace_back();
        for (const FadeSample& sample : samples)
            film.push_back(dry_per_wet * deposit.wet_um(sample.x_mm, sample.y_mm));
    }
    return films;
}

FadeGun make_fade_gun(const plan::Coat& coat, const Located<std::string>& name, const plan::LibraryGun& gun) {
    return {name, plan::gun_as_set(coat, gun.gun), coat.speed.value_or(gun.speed),
            coat.flow.value_or(gun.gun.flow)};
}

Degrees fade_heel_angle(const plan::Fade& fade) {
    return fade.method == plan::FadeMethod::burst ? fade.heel_angle.value_or(kDefaultHeelAngle) : Degrees{};
}

double film_edge_width_mm(const plan::Coat& coat, const FadeGun& fade_gun, Degrees tilt) {
    constexpr int kSteps = 2000;
    const double side = (tilt.value == 0 ? 1.7 : 4.0) * spray::pass_width(fade_gun.gun, coat.distance).value;
    plan::Pass pass;
    pass.heel_angle = tilt;
    pass.path = {{Millimetres{-20 * side}, Millimetres{}}, {Millimetres{20 * side}, Millimetres{}}};
    const spray::Pass trial = plan::to_spray(pass, {fade_gun.default_speed, &coat});
    const spray::Deposit deposit(fade_gun.gun, {&trial, 1});
    const double step = 2 * side / kSteps;
    std::vector<double> film;
    for (int i = 0; i <= kSteps; ++i) film.push_back(deposit.wet_um(0, -side + step * i));
    return edge_width_mm(film, step);
}

plan::Coat coat_without_fade(const plan::Coat& coat, const FadeCoat& fade_coat, const FadeGun& fade_gun) {
    plan::Coat stage = coat;
    stage.fade.reset();
    stage.name = coat.name + ": " + fade_coat.label;
    stage.mix = {fade_coat.mix, coat.fade->span};
    stage.gun = fade_gun.name;
    stage.speed.reset();
    stage.fade_role = fade_coat.role;
    if (fade_coat.role == plan::FadeRole::fog) stage.laydown = plan::Laydown::dots;
    return stage;
}

std::optional<plan::Coat> coat_with_passes(plan::Coat stage, const std::vector<FadeLine>& lines,
                                           const PassSpeeds& speeds, const FadeGun& fade_gun,
                                           Diagnostics& diagnostics) {
    if (speeds.flow != fade_gun.full_flow) stage.flow = speeds.flow;
    for (std::size_t i = 0; i < lines.size(); ++i)
        if (speeds.passes[i])
            std::visit([&](const auto& movement) { add_movement(movement, *speeds.passes[i], stage); },
                       lines[i].movement);
    if (!stage.passes.empty() || !stage.outline_passes.empty()) return stage;
    diagnostics.error("P030", stage.mix.span,
                      fmt::format("no paint of '{}' would reach the panel", stage.mix.value),
                      "move the fade onto the panel");
    return std::nullopt;
}

std::optional<plan::Coat> solve_fade_coat(const plan::Coat& coat, const FadeCoat& fade_coat,
                                          const RampProfile& profile, const FadeGun& fade_gun,
                                          const FadeGeometry& geometry, double dry_per_wet,
                                          Diagnostics& diagnostics) {
    const plan::Fade& fade = *coat.fade;
    plan::Coat stage = coat_without_fade(coat, fade_coat, fade_gun);
    const std::optional<std::vector<FadeLine>> lines =
        candidate_lines(stage, fade, fade_coat.zone, fade_gun, geometry, diagnostics);
    if (!lines) return std::nullopt;
    const double min_amount_share =
        fade.ramp == plan::Ramp::perceptual ? kMinPerceptualShare : kMinAmountShare;
    const PassSpeeds speeds =
        pass_speeds(amounts_of(*lines, fade_coat, profile, fade_gun, geometry, dry_per_wet, min_amount_share),
                    {fade_gun.full_flow, coat.flow.has_value(), fade_gun.default_speed, min_amount_share});
    return coat_with_passes(std::move(stage), *lines, speeds, fade_gun, diagnostics);
}

}  // namespace fadewright::planner
