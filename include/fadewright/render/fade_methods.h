// The ways of making one fade, side by side: each laid on the same panel, judged along the same line.
//
// fade_ways() takes the fade of a plan and sets the other methods in its place, everything else held: film,
// width, gun, light. A plan without a fade is one way, as it stands.
//
// The line crosses the fade at right angles: from start to end, over the middle of the path, or inwards from
// the rim where it is farthest to the left; lengthened by half the width at either end, as far as the panel goes.
//
// A way's fault points are what speaks against it, each figure over the size from which it matters:
//
//     log2(1 + bands / threshold) + corner / 0.4 + (steepest over mean - 1) + chroma dip / 10 + hue swing / 30
//     + |width - wanted| / wanted + grain / 1 L* + dryness / kDrySpray + 0.5 sag / limit + passes / 40
//
// Source: own derivation: the sizes are starting values, uncalibrated.
// Checks     tests/render/fade_way_test.cpp
#pragma once

#include "fadewright/plan/job.h"
#include "fadewright/plan/library.h"
#include "fadewright/plan/plan.h"
#include "fadewright/render/fade_cost.h"
#include "fadewright/render/fade_metrics.h"
#include "fadewright/render/progress.h"

#include <optional>
#include <string>
#include <vector>

namespace fadewright::render {

inline constexpr std::size_t kFadeSamples = 401;

inline constexpr double kPassesScale = 40;

// The part of the fault points that the colours alone make.
[[nodiscard]] double colour_penalty(const FadeMetrics& metrics);

// The coat with the plan's first fade, the one that is judged; none without a fade.
[[nodiscard]] std::optional<std::size_t> fade_coat_index(const plan::Plan& plan);

struct AssessmentLine {
    plan::Point from, to;
    std::optional<Millimetres> target_width;  // 10 to 90 %, of the fade's even ramp
    std::optional<Millimetres> midline;       // where the fade's halfway line crosses it, from its start
    [[nodiscard]] std::vector<plan::Point> points(std::size_t count) const;
    [[nodiscard]] double length_mm() const;
};

// Of the plan's first fade; without one, over the panel's middle from the lower edge to the upper.
[[nodiscard]] AssessmentLine assessment_line(const plan::Plan& plan, const spray::Panel& panel);

// The colours along it, as they are and with every coat's film.
[[nodiscard]] std::vector<FadeSample> fade_samples(const plan::Job& job, const AssessmentLine& line,
                                                   std::size_t count);

struct FadeMethodResult {
    std::string name;  // "one middle, extended 2:1"
    plan::Plan plan;   // with the fade in it
    plan::Job job;
    std::vector<FadeSample> samples;
    std::optional<FadeMetrics> metrics;  // none: the ends look the same
    FadeCost cost;
    double penalty = 0;
};

// Where the middle lies off the planned halfway line by more than kOffHalfway of the wanted width, by how much and what
// to do about it; else nothing. Strong paint is seen long before its film is half full.
inline constexpr double kMaxMidpointOffset = 0.05;
[[nodiscard]] std::optional<std::string> describe_midpoint_offset(const FadeMethodResult& result,
                                                                  const AssessmentLine& line,
                                                                  DisplayUnits units = {});

// Judges one way of the plan. Nothing, and the reason reported, if it cannot be made.
[[nodiscard]] std::optional<FadeMethodResult> assess_method(std::string name, const plan::Plan& plan,
                                                            const AssessmentLine& line,
                                                            plan::Library& library, Diagnostics& diagnostics);

// A way that could not be made, and why.
struct InfeasibleMethod {
    std::string name, reason;
};

struct FadeMethodComparison {
    AssessmentLine line;
    std::vector<FadeMethodResult> results;  // the plan's own first
    std::vector<InfeasibleMethod> infeasible;
    std::size_t best = 0, runner_up = 0;
    std::string advice;  // in words, with the reason
};

// Nothing if the plan as it stands cannot be made, or if it was stopped.
[[nodiscard]] std::optional<FadeMethodComparison> compare_fade_methods(const plan::Plan& plan,
                                                                       const std::string& plan_text,
                                                                       plan::Library& library,
                                                                       Diagnostics& diagnostics,
                                                                       const Progress& progress = {});

}  // namespace fadewright::render
