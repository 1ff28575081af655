// Film across a fade: the target, and the amounts of the passes that reach it.
#pragma once

#include "fadewright/plan/plan.h"

#include <limits>
#include <optional>
#include <vector>

namespace fadewright::planner {

// How film builds along a ramp, and the weight of its errors.
class RampProfile {
public:
    explicit RampProfile(plan::Ramp ramp) : ramp_(ramp) {}
    // Shares of film at even steps along the ramp, from 0 to 1.
    explicit RampProfile(std::vector<double> shares) : shares_(std::move(shares)) {}

    [[nodiscard]] double share_at(double s) const noexcept;          // s: position along the ramp, 0 to 1
    [[nodiscard]] double error_weight(double share) const noexcept;  // of a film error at that share, up to 1

private:
    plan::Ramp ramp_ = plan::Ramp::linear;
    std::vector<double> shares_;
};

// Target film as a share of full: builds over the rise, fades out over the fall.
struct RampZone {
    double rise_start_mm = 0, rise_end_mm = 0;
    double fall_start_mm = std::numeric_limits<double>::infinity();
    double fall_end_mm = std::numeric_limits<double>::infinity();

    [[nodiscard]] double share(double u_mm, const RampProfile& profile) const noexcept;
};

// 10 to 90 % of the cumulative profile of a pass, given at even steps.
[[nodiscard]] double edge_width_mm(const std::vector<double>& pass, double step_mm);

// For each line, whether a pass along it reaches the panel: leaves more than a trace of what the best line
// leaves. films: what one pass along each line leaves at every sample.
[[nodiscard]] std::vector<bool> lines_reaching_panel(const std::vector<std::vector<double>>& films);

// The non-negative amounts whose film is closest to the target. columns[j][i]: what one unit of pass j leaves
// at sample i; neighbouring passes are adjacent. Both are already multiplied by the weights of the samples.
[[nodiscard]] std::vector<double> fit_amounts(const std::vector<std::vector<double>>& columns,
                                              const std::vector<double>& target_film);

struct SpeedAndRepeats {
    MillimetresPerSecond speed;
    int repeats = 1;
};

struct PassSpeeds {
    MillilitresPerMinute flow;
    std::vector<std::optional<SpeedAndRepeats>> passes;  // nothing: too little for a pass
};

// Limits of speeds and repeats for amounts in units of one pass at 1 mm/s with full_flow. flow_given: the
// painter set that flow; it is kept.
struct PassSpeedLimits {
    MillilitresPerMinute full_flow;
    bool flow_given = false;
    MillimetresPerSecond default_speed;
    double min_amount_share = 0;  // of the largest amount; a smaller one is left out
};
[[nodiscard]] double min_speed(const PassSpeedLimits& limits) noexcept;  // mm/s, of a single pass

// The nearest round flow to that share of the gun's, within its range: not more than full, not so low that it
// spits.
[[nodiscard]] MillilitresPerMinute flow_at_share(double share, MillilitresPerMinute full);

// A round speed and repeats for an amount, at the chosen flow.
[[nodiscard]] SpeedAndRepeats speed_and_repeats(double amount, double min_speed_mm_s);

[[nodiscard]] PassSpeeds pass_speeds(const std::vector<double>& amounts, const PassSpeedLimits& limits);

}  // namespace fadewright::planner
