// Footprints: where the paint of a still gun lands, as a share of all that lands, per square millimetre.
//
// Across is the place beside the line of travel, along is the place on it. A fan lies across the travel: its
// long axis is the across axis.
//
//     round   f = exp(-(x^2 + y^2) / (2 sigma^2)) / (2 pi sigma^2)
//     fan     f = q0 (1 - x^2/a^2)^(b1-1) (1 - y^2 / (B^2 (1 - x^2/a^2)))^(b2-1),  zero outside the ellipse
//             with q0 a B Beta(1/2, b2) Beta(1/2, b1 + 1/2) = 1
//
// Both have closed forms for a straight pass of endless length, per millimetre beside the line:
//
//     round   exp(-x^2 / (2 sigma^2)) / (sigma sqrt(2 pi))
//     fan     (1 - x^2/a^2)^(b1-1/2) / (a Beta(1/2, b1 + 1/2))
//
// and for the share of it that has gone by when the gun is at a given place, which makes the ends of strokes
// exact: cut() takes the footprint at one place across, passed() integrates that cut along the travel.
//
// Symbols    x across, y along, mm; sigma spread, mm; a, B half axes of the ellipse, mm; b1, b2 tapers
// Source     round: bivariate Gaussian, the usual class of spray models (Antonio 1994, from memory); fan:
//            elliptical double beta of Zhang et al. 2006 (from memory); pass of the circular beta model,
//            Balkan & Arikan 1999, Mech. Res. Commun. 26(5):609-617 (from memory)
// Holds for  a flat panel square to the gun; a round footprint is cut off at kRoundReach sigma, where less
//            than 1e-9 of the paint is left; tapers from 1 to 50, and a taper of 1 ends in a step
// Accuracy   normalisation and passes within 1e-6 of numerical integration
// Checks     tests/spray/footprint_test.cpp,
// tests/published/{gaussian_pass,circular_beta_pass,double_beta}.csv
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/spray/beta_curve.h"
#include "fadewright/spray/gun.h"

#include <cmath>
#include <optional>
#include <variant>

namespace fadewright::spray {

inline constexpr double kRoundReach = 6.5;  // in sigma; exp(-kRoundReach^2 / 2) is below 1e-9

// The footprint at one place across: its sum along the travel, and how far it reaches before and behind.
struct Cut {
    double profile;  // per mm
    double half_mm;
};

class RoundFootprint {
public:
    explicit RoundFootprint(Millimetres sigma);

    [[nodiscard]] double at(double across_mm, double along_mm) const noexcept;  // per mm2
    [[nodiscard]] double reach_across_mm() const noexcept { return kRoundReach * sigma_; }
    [[nodiscard]] double reach_along_mm() const noexcept { return kRoundReach * sigma_; }

    [[nodiscard]] Cut cut(double across_mm) const noexcept {
        const double u = across_mm / sigma_;
        if (std::abs(u) >= kRoundReach) return {0, 0};
        return {std::exp(-u * u / 2) * peak_, kRoundReach * sigma_};
    }
    // Share of the cut behind `along_mm`, and its first moment in mm.
    [[nodiscard]] Passed passed(Cut cut, double along_mm) const noexcept;

private:
    double sigma_;
    double peak_;  // of the pass
};

class FanFootprint {
public:
    // Whole lengths of the two axes.
    FanFootprint(Millimetres width, Millimetres depth, double taper_across, double taper_along);

    [[nodiscard]] double at(double across_mm, double along_mm) const noexcept;
    [[nodiscard]] double reach_across_mm() const noexcept { return a_; }
    [[nodiscard]] double reach_along_mm() const noexcept { return B_; }

    [[nodiscard]] Cut cut(double across_mm) const noexcept {
        const double u = across_mm / a_;
        const double t = (1 - u) * (1 + u);
        if (!(t > 0)) return {0, 0};
        return {profile_(t) * peak_, B_ * std::sqrt(t)};
    }
    [[nodiscard]] Passed passed(Cut cut, double along_mm) const noexcept {
        if (along_mm >= cut.half_mm) return {1, 0};
        if (along_mm <= -cut.half_mm) return {0, 0};
        const Passed p = along_.passed(along_mm / cut.half_mm);
        return {p.share, p.moment * cut.half_mm};
    }

private:
    double a_, B_;
    FixedPower profile_;
    FixedPower across_;
    FixedPower depth_;
    BetaCurve along_;
    double peak_;  // of the pass
};

using Footprint = std::variant<RoundFootprint, FanFootprint>;

// At the gun's reference distance.
[[nodiscard]] Footprint footprint_of(const Gun& gun);

[[nodiscard]] double value_at(const Footprint& footprint, double across_mm, double along_mm) noexcept;
[[nodiscard]] double pass_profile(const Footprint& footprint, double across_mm) noexcept;

// How much larger than at the reference distance everything is. No distance, or 0: the reference distance.
[[nodiscard]] double distance_scale(const Gun& gun, std::optional<Millimetres> distance) noexcept;

// The width that overlaps are counted in: the fan's long axis, or four sigma of a round gun.
[[nodiscard]] Millimetres pass_width(const Gun& gun, std::optional<Millimetres> distance) noexcept;

}  // namespace fadewright::spray
