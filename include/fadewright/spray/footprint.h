// Footprints: distribution of the paint that a still gun lands, as a share per square millimetre.
//
// Across is the coordinate beside the line of travel, along is the coordinate on it. A fan is held across the
// travel: its long axis is the across axis.
//
//     round     f = [(1 - m) + m r^2 / (2 sigma^2)] exp(-r^2 / (2 sigma^2)) / (2 pi sigma^2), r^2 = x^2 + y^2
//     fan       f = q0 (1 - x^2/a^2)^(b1-1) (1 - y^2 / (B^2 (1 - x^2/a^2)))^(b2-1),  zero outside the ellipse
//               with q0 a B Beta(1/2, b2) Beta(1/2, b1 + 1/2) = 1
//     measured  f = P(x) (1 - y^2/B^2)^(b2-1) / (B Beta(1/2, b2)),  P linear between the measured values
//
// m is the share of the paint in a ring, where excess air drives it (hollow pattern): a pass has one maximum
// up to m = 2/3, then two. All have closed forms for a straight pass of infinite length, per millimetre
// beside the line:
//
//     round     [(1 - m) + m (1/2 + u^2)] exp(-u^2) / (sigma sqrt(2 pi)),  u = x / (sigma sqrt 2)
//     fan       (1 - x^2/a^2)^(b1-1/2) / (a Beta(1/2, b1 + 1/2))
//     measured  P(x)
//
// and for the cumulative share of it behind a point of the travel, which makes the ends of segments exact:
// slice() takes the footprint at one x across, cumulative() integrates that slice along the travel.
//
// at() takes a point, or the points of many puffs at once.
//
// Symbols    x across, y along, mm; sigma spread, mm; a, B half axes of the ellipse, mm; b1, b2 tapers
// Source: [antonio1994] (round: bivariate Gaussian, the usual class of spray models), [conner2005] (its ring,
//            as in models of rotary bells; the pass our own derivation), [zhang2006] (fan: elliptical double
//            beta), [balkan1999] (pass of the circular beta model).
// Holds for  a flat panel square to the gun; a round footprint is truncated at kRoundReach sigma, where less
//            than 1e-9 of the paint is left; tapers from 1 to 50, and a taper of 1 ends in a step
// Accuracy   normalisation and passes within 1e-6 of numerical integration
// Checks     tests/spray/footprint_test.cpp,
//            tests/published/{gaussian_pass,circular_beta_pass,double_beta}.csv
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/kernels/puffs_fast.h"
#include "fadewright/spray/gun.h"
#include "fadewright/spray/incomplete_beta.h"

#include <cmath>
#include <optional>
#include <variant>
#include <vector>

namespace fadewright::spray {

inline constexpr double kRoundReach = 6.5;  // in sigma; exp(-kRoundReach^2 / 2) is below 1e-9

// The footprint at one x across: its integral along the travel, and its half length.
struct Slice {
    double profile = 0;  // per mm
    double half_mm = 0;
    double ring = 0;  // round: share of the slice distributed as t^2 exp(-t^2)
};

class RoundFootprint {
public:
    explicit RoundFootprint(Millimetres sigma, Share ring = {});

    [[nodiscard]] double at(double across_mm, double along_mm) const noexcept;  // per mm2
    void at(const kernels::fast::PuffRays& rays, kernels::fast::PuffShares& out) const noexcept;
    [[nodiscard]] double reach_across_mm() const noexcept { return kRoundReach * sigma_; }
    [[nodiscard]] double reach_along_mm() const noexcept { return kRoundReach * sigma_; }

    [[nodiscard]] Slice slice(double across_mm) const noexcept {
        const double v = across_mm / sigma_;
        if (std::abs(v) >= kRoundReach) return {};
        const double density = std::exp(-v * v / 2) * peak_;
        if (ring_ == 0) return {density, kRoundReach * sigma_};
        const double share = 1 - ring_ / 2 + ring_ * v * v / 2;
        return {density * share, kRoundReach * sigma_, ring_ / 2 / share};
    }
    // Share of the slice behind `along_mm`, and its first moment in mm.
    [[nodiscard]] Cumulative cumulative(Slice slice, double along_mm) const noexcept;

private:
    double sigma_;
    double ring_;
    double peak_;  // of a pass without a ring
};

class FanFootprint {
public:
    // Whole lengths of the two axes.
    FanFootprint(Millimetres width, Millimetres thickness, double taper_across, double taper_along);

    [[nodiscard]] double at(double across_mm, double along_mm) const noexcept;
    void at(const kernels::fast::PuffRays& rays, kernels::fast::PuffShares& out) const noexcept;
    [[nodiscard]] double reach_across_mm() const noexcept { return a_; }
    [[nodiscard]] double reach_along_mm() const noexcept { return B_; }

    [[nodiscard]] Slice slice(double across_mm) const noexcept {
        const double u = across_mm / a_;
        const double t = (1 - u) * (1 + u);
        if (!(t > 0)) return {};
        return {profile_(t) * peak_, B_ * std::sqrt(t)};
    }
    [[nodiscard]] Cumulative cumulative(Slice slice, double along_mm) const noexcept {
        if (along_mm >= slice.half_mm) return {1, 0};
        if (along_mm <= -slice.half_mm) return {0, 0};
        const Cumulative p = along_.cumulative(along_mm / slice.half_mm);
        return {p.share, p.moment * slice.half_mm};
    }

private:
    double a_, B_;
    FixedPower profile_;
    FixedPower across_;
    FixedPower thickness_;
    IncompleteBeta along_;
    double peak_;  // of the pass
};

// Asymmetric if the measurement is: the profile runs from the right of the travel to its left.
class MeasuredFootprint {
public:
    // At least two values, none negative, not all zero (contract).
    MeasuredFootprint(const std::vector<double>& profile, Millimetres width, Millimetres thickness,
                      double taper_along);

    [[nodiscard]] double at(double across_mm, double along_mm) const noexcept;
    void at(const kernels::fast::PuffRays& rays, kernels::fast::PuffShares& out) const noexcept;
    [[nodiscard]] double reach_across_mm() const noexcept { return a_; }
    [[nodiscard]] double reach_along_mm() const noexcept { return B_; }

    [[nodiscard]] Slice slice(double across_mm) const noexcept {
        const double step = (across_mm + a_) / step_;
        if (!(step > 0) || step >= static_cast<double>(profile_.size() - 1)) return {};
        const auto i = static_cast<std::size_t>(step);
        const double t = step - static_cast<double>(i);
        return {profile_[i] + t * (profile_[i + 1] - profile_[i]), B_};
    }
    [[nodiscard]] Cumulative cumulative(Slice, double along_mm) const noexcept {
        const Cumulative p = along_.cumulative(along_mm / B_);
        return {p.share, p.moment * B_};
    }

private:
    double a_, B_;
    double step_;
    std::vector<double> profile_;  // per mm
    FixedPower thickness_;
    IncompleteBeta along_;
};

using Footprint = std::variant<RoundFootprint, FanFootprint, MeasuredFootprint>;

// At the reference distance.
[[nodiscard]] Footprint footprint_of(const Gun& gun);

[[nodiscard]] double value_at(const Footprint& footprint, double across_mm, double along_mm) noexcept;
[[nodiscard]] double pass_profile(const Footprint& footprint, double across_mm) noexcept;

// Standard deviation of a pass across, and of a slice along the travel.
struct Spread {
    double across_mm, along_mm;
};
[[nodiscard]] Spread spread_of(const Gun& gun);

// Size of the footprint relative to the reference distance. No distance, or 0: the reference distance.
[[nodiscard]] double distance_scale(const Gun& gun, std::optional<Millimetres> distance) noexcept;

// The width that overlaps refer to: the long axis, or four sigma of a round gun.
[[nodiscard]] Millimetres pass_width(const Gun& gun, std::optional<Millimetres> distance) noexcept;

}  // namespace fadewright::spray
