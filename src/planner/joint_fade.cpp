#include "joint_fade.h"

#include "colour_path.h"
#include "fadewright/colour/delta_e.h"
#include "fadewright/planner/fade.h"
#include "joint_pass_solver.h"
#include "perceptual_ramp.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace fadewright::planner {
namespace {

constexpr std::size_t kMinTargets = 161, kTargetsPerLine = 4;
constexpr double kLineSpacingShare = 0.5;  // candidate lines, of the overlap's spacing
constexpr double kNegligibleFilm = 0.002;  // of a full film
// Candidate weights of a* and b* along the colour path: a small one keeps L* free of banding where it is
// monotonic, a large one where it reverses.
constexpr std::array kChromaWeights{0.1, 0.3, 1.0};

// The range of u where a coat has a target film.
RampZone coat_zone(const std::vector<TargetSample>& targets, const std::vector<double>& u_mm,
                   std::size_t coat, double full_um) {
    constexpr double kFar = std::numeric_limits<double>::infinity();
    RampZone zone{kFar, kFar, -kFar, -kFar};
    for (std::size_t i = 0; i < u_mm.size(); ++i) {
        if (targets[i].films_um[coat] < kNegligibleFilm * full_um) continue;
        zone.rise_start_mm = std::min(zone.rise_start_mm, u_mm[i]);
        zone.fall_end_mm = std::max(zone.fall_end_mm, u_mm[i]);
    }
    return zone;
}

double max_banding(const std::vector<TargetSample>& targets, const SampleLine& samples) {
    std::vector<double> lightness;
    for (const TargetSample& target : targets) lightness.push_back(target.lab.L);
    return BandingFilter(samples, targets).banding(0, as_vector(lightness)).cwiseAbs().maxCoeff();
}

// Chooses the metric of the path for which the target colours have the least banding.
std::vector<TargetSample> min_banding_targets(ColourPath& path, const SampleLine& samples,
                                              const TargetWidth& width) {
    double min_banding = std::numeric_limits<double>::infinity(), best = 1;
    for (const double weight : kChromaWeights) {
        if (!samples.evenly_spaced) break;
        path.set_metric(weight);
        const double worst = max_banding(target_samples(path, samples.u_mm, width), samples);
        if (worst < min_banding) min_banding = worst, best = weight;
    }
    path.set_metric(best);
    return target_samples(path, samples.u_mm, width);
}

}  // namespace

bool has_colour_path(const FadeStages& stages, const film::StackColour& colours) {
    const std::vector<std::vector<double>> films = films_along_path(stages);
    return colour::delta_e_76(colours.lab(films.front()), colours.lab(films.back())) >=
           colour::kIndistinguishable_dE;
}

std::optional<std::vector<plan::Coat>> joint_coats(const JointFade& fade, Diagnostics& diagnostics) {
    const FadeGeometry& geometry = fade.geometry;
    plan::Fade closer_fade = *fade.coat.fade;
    closer_fade.overlap = Share{1 - kLineSpacingShare * (1 - closer_fade.overlap.value)};
    const double half = 0.5 * geometry.width_mm();
    const TargetWidth width{ten_to_ninety_share(plan::Ramp::joint) * geometry.width_mm(),
                            std::min(geometry.min_u_mm(), -half), std::max(geometry.max_u_mm(), half)};
    ColourPath path(fade.colours, films_along_path(fade.stages));
    const auto across = [&](const std::vector<FadeSample>& samples) {
        SampleLine out{{}, closer_fade.start.has_value(), width.ten_to_ninety_mm, fade.view_distance};
        for (const FadeSample& sample : samples)
            out.u_mm.push_back(std::clamp(sample.u_mm, width.first_mm, width.last_mm));
        return out;
    };
    const SampleLine coarse_line = across(geometry.samples(kMinTargets));
    const std::vector<TargetSample> coarse_targets = min_banding_targets(path, coarse_line, width);

    std::vector<plan::Coat> coats;
    std::vector<std::vector<FadeLine>> lines;
    std::size_t max_lines = 0;
    for (std::size_t c = 0; c < fade.stages.coats.size(); ++c) {
        const FadeCoat& fade_coat = fade.stages.coats[c];
        coats.push_back(coat_without_fade(fade.coat, fade_coat, fade.guns[c]));
        std::optional<std::vector<FadeLine>> found = candidate_lines(
            coats.back(), closer_fade, coat_zone(coarse_targets, coarse_line.u_mm, c, fade_coat.film.value),
            fade.guns[c], geometry, diagnostics);
        if (!found) return std::nullopt;
        max_lines = std::max(max_lines, found->size());
        lines.push_back(std::move(*found));
    }
    const std::vector<FadeSample> samples =
        geometry.samples(std::max(kMinTargets, kTargetsPerLine * max_lines));
    const SampleLine fine_line = across(samples);
    const std::vector<TargetSample> targets = target_samples(path, fine_line.u_mm, width);
    std::vector<CoatLines> coat_lines;
    for (std::size_t c = 0; c < coats.size(); ++c)
        coat_lines.push_back(
            {line_films(lines[c], samples, fade.guns[c], fade.dry_per_wet[c]),
             fade.stages.coats[c].film.value,
             {fade.guns[c].full_flow, fade.coat.flow.has_value(), fade.guns[c].default_speed, 0}});
    const std::vector<PassSpeeds> all_speeds =
        solve_joint_passes(coat_lines, fade.colours, targets, fine_line);
    for (std::size_t c = 0; c < coats.size(); ++c) {
        std::optional<plan::Coat> with_passes =
            coat_with_passes(std::move(coats[c]), lines[c], all_speeds[c], fade.guns[c], diagnostics);
        if (!with_passes) return std::nullopt;
        coats[c] = std::move(*with_passes);
    }
    return coats;
}

}  // namespace fadewright::planner
