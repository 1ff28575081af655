// Comparison of the methods of making one fade: each sprayed on the same panel, assessed along the same line.
//
// compare_fade_methods() replaces the method of a plan's fade and keeps everything else: film, width, gun,
// light. A plan without a fade gives a single result, as it is.
//
// The assessment line crosses the fade at right angles: from start to end, over the middle of the path, or
// inwards from the leftmost point of the edge; extended by half the width at both ends as far as the panel
// reaches.
//
// The penalty is the sum of the figures that count against a method, each over the size from which it
// matters:
//
//     log2(1 + banding / threshold) + abruptness / 0.4 + (steepest over mean - 1) + chroma loss / 10
//     + hue shift / 30 + |width - target| / target + graininess / 1 L* + dry-spray index / kDrySpray
//     + 0.5 sag / limit + passes / 40
//
// Source: own derivation: the sizes are starting values, uncalibrated.
// Checks     tests/assess/fade_methods_test.cpp
#pragma once

#include "fadewright/assess/fade_cost.h"
#include "fadewright/assess/fade_metrics.h"
#include "fadewright/base/progress.h"
#include "fadewright/plan/job.h"
#include "fadewright/plan/library.h"
#include "fadewright/plan/plan.h"
#include "fadewright/planner/resolve.h"

#include <array>
#include <optional>
#include <string>
#include <vector>

namespace fadewright::assess {

inline constexpr std::size_t kFadeSamples = 401;

inline constexpr double kPassesScale = 40;

// The part of the penalty that depends on the colours alone.
[[nodiscard]] double colour_penalty(const FadeMetrics& metrics);

// The coat with the plan's first fade, which is assessed; nothing without a fade.
[[nodiscard]] std::optional<std::size_t> fade_coat_index(const plan::Plan& plan);

struct AssessmentLine {
    plan::Point from, to;
    std::optional<Millimetres> target_width;  // 10 to 90 % of the fade's linear ramp
    std::optional<Millimetres> midline;       // where it crosses the fade's midline, from its start
    [[nodiscard]] std::vector<plan::Point> points(std::size_t count) const;
    [[nodiscard]] double length_mm() const;
};

// Of the plan's first fade; without a fade, over the panel's centre from the lower edge to the upper.
[[nodiscard]] AssessmentLine assessment_line(const plan::Plan& plan, const spray::Panel& panel);

// The colours along the line.
[[nodiscard]] std::vector<FadeSample> fade_samples(const plan::Job& job, const AssessmentLine& line,
                                                   std::size_t count);

// The fades that are compared, as variations of the plan's.
enum class FadeVariation {
    over,                      // `to` straight over `from`
    under,                     // `from` straight over `to`
    fogged,                    // from both sides
    mid_colour,                // one mid colour, unextended
    mid_colour_extended,       // 2:1 with clear base
    mid_colour_reduced,        // thinned 2:1 with reducer instead
    mid_colour_at_midpoint,    // extended, in the ratio of the visual midpoint
    two_mid_colours_extended,  // 2:1
    stepped,                   // stepped let-down into the base
    glazed,                    // thin transparent layers
    burst,                     // from outside the edge
};
inline constexpr std::array kFadeVariations{FadeVariation::over,
                                            FadeVariation::under,
                                            FadeVariation::fogged,
                                            FadeVariation::mid_colour,
                                            FadeVariation::mid_colour_extended,
                                            FadeVariation::mid_colour_reduced,
                                            FadeVariation::mid_colour_at_midpoint,
                                            FadeVariation::two_mid_colours_extended,
                                            FadeVariation::stepped,
                                            FadeVariation::glazed,
                                            FadeVariation::burst};

enum class FadeSource { plan, tuned, variation };

// Which fade a result is of.
struct FadeMethodId {
    FadeSource source = FadeSource::plan;
    std::optional<FadeVariation> variation;  // also of the plan's own fade, if it equals one
    friend bool operator==(const FadeMethodId&, const FadeMethodId&) = default;
};

struct FadeMethodResult {
    FadeMethodId id;
    plan::Plan plan;  // with this fade
    plan::Job job;
    std::vector<FadeSample> samples;
    std::optional<FadeMetrics> metrics;  // nothing if both ends look the same
    FadeCost cost;
    double penalty = 0;
};

// Of the visual midpoint from the planned midline.
struct MidpointOffset {
    Millimetres distance;
    std::string towards, away_from;  // names of the mixes on that side and on the other
};
// Nothing up to kMaxMidpointOffset of the target width, or without a fade or a target. Strong paint shows
// long before its film is half its final thickness.
inline constexpr double kMaxMidpointOffset = 0.05;
[[nodiscard]] std::optional<MidpointOffset> midpoint_offset(const plan::Plan& plan,
                                                            const std::optional<FadeMetrics>& metrics,
                                                            const AssessmentLine& line);

// From the end of the ramp that is pure `from` to the end that is pure `to`; 0 if it has no width.
[[nodiscard]] double ramp_width_mm(const plan::Fade& fade);

// Assesses one plan, resolved to that job.
[[nodiscard]] FadeMethodResult assess_method(const FadeMethodId& id, plan::Plan plan, plan::Job job,
                                             const AssessmentLine& line);

// A method that is not possible, and the error.
struct InfeasibleMethod {
    FadeVariation variation;
    plan::Fade fade;
    std::string reason;
};

// What counts for a method.
enum class FadeCriterion {
    banding,
    abruptness,
    evenness,
    chroma_loss,
    hue_shift,
    graininess,
    dry_spray,
    passes
};
inline constexpr std::array kFadeCriteria{
    FadeCriterion::banding,   FadeCriterion::abruptness, FadeCriterion::evenness,  FadeCriterion::chroma_loss,
    FadeCriterion::hue_shift, FadeCriterion::graininess, FadeCriterion::dry_spray, FadeCriterion::passes};

// The criterion in which the best method is furthest ahead of the runner-up, with both values.
struct FadeAdvantage {
    FadeCriterion criterion;
    double best, runner_up;
};

struct FadeMethodComparison {
    AssessmentLine line;
    std::vector<FadeMethodResult> results;  // the plan's own method first
    std::vector<InfeasibleMethod> infeasible;
    std::size_t best = 0, runner_up = 0;     // equal if there is only one result
    std::optional<FadeAdvantage> advantage;  // nothing: no clear winner
};

// The plan has a job (contract). Nothing if it was cancelled.
[[nodiscard]] std::optional<FadeMethodComparison> compare_fade_methods(const planner::ResolvedPlan& resolved,
                                                                       plan::Library& library,
                                                                       const Progress& progress = {});

}  // namespace fadewright::assess
