// Film across a fade: what is wished, and how much each pass must leave for it.
#pragma once

#include "fadewright/plan/plan.h"

#include <limits>
#include <optional>
#include <vector>

namespace fadewright::plan {

// How film grows along a ramp, and how closely it must be kept.
class RampProfile {
public:
    explicit RampProfile(Ramp ramp) : ramp_(ramp) {}
    // Shares of film at even steps along the ramp, growing from 0 to 1.
    explicit RampProfile(std::vector<double> shares) : shares_(std::move(shares)) {}

    [[nodiscard]] double share_at(double s) const noexcept;          // s: along the ramp, 0 to 1
    [[nodiscard]] double error_weight(double share) const noexcept;  // of an error of film there, up to 1

private:
    Ramp ramp_ = Ramp::linear;
    std::vector<double> shares_;
};

// Wished film as a share of full: grows from `up` to `full`, falls from `falls` to `gone`.
struct RampZone {
    double rise_start_mm = 0, rise_end_mm = 0;
    double fall_start_mm = std::numeric_limits<double>::infinity();
    double fall_end_mm = std::numeric_limits<double>::infinity();

    [[nodiscard]] double share(double u_mm, const RampProfile& profile) const noexcept;
};

// 10 to 90 % of a ramp, as a share of its width: of film, or of what is seen.
[[nodiscard]] double ten_to_ninety_share(Ramp ramp) noexcept;

// 10 to 90 % of the running sum of a pass, given at even steps.
[[nodiscard]] double edge_width_mm(const std::vector<double>& pass, double step_mm);

// Of each line, from what one pass along it leaves at every spot, whether it meets the panel: leaves there more than
// a trace of what the best placed one does.
[[nodiscard]] std::vector<bool> lines_reaching_panel(const std::vector<std::vector<double>>& films);

// columns[j][i]: what one unit of pass j leaves at spot i; neighbours lie beside each other. The amounts,
// none below 0, whose film is closest to the wished. Both have been multiplied with the weights of the spots.
[[nodiscard]] std::vector<double> fit_amounts(const std::vector<std::vector<double>>& columns,
                                              const std::vector<double>& target_film);

struct SpeedAndRepeats {
    MillimetresPerSecond speed;
    int repeats = 1;
};

struct PassSpeeds {
    MillilitresPerMinute flow;
    std::vector<std::optional<SpeedAndRepeats>> passes;  // none: too little to be worth a pass
};

// Speeds and repeats for amounts in units of one pass at 1 mm/s with the flow `full`. `given`: that flow is
// the painter's and stays.
struct PassSpeedLimits {
    MillilitresPerMinute full_flow;
    bool flow_given = false;
    MillimetresPerSecond default_speed;
    double min_amount_share = 0;  // of the largest amount; less is not worth a pass
};
[[nodiscard]] double min_speed(
    const PassSpeedLimits& limits) noexcept;  // mm/s, of a pass that need not be repeated

// The round flow nearest to that share of the gun's; as much as it has, and not so little that it spits.
[[nodiscard]] MillilitresPerMinute flow_at_share(double share, MillilitresPerMinute full);

// A round speed and repeats for an amount, at the flow that is set.
[[nodiscard]] SpeedAndRepeats speed_and_repeats(double amount, double min_speed_mm_s);

[[nodiscard]] PassSpeeds pass_speeds(const std::vector<double>& amounts, const PassSpeedLimits& limits);

}  // namespace fadewright::plan
