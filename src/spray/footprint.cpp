#include "fadewright/spray/footprint.h"

#include "fadewright/base/contract.h"

#include <numbers>

namespace fadewright::spray {
namespace {

constexpr double kSigmasInWidth = 4;

}  // namespace

RoundFootprint::RoundFootprint(Millimetres sigma)
    : sigma_(sigma.value), peak_(1 / (sigma.value * std::sqrt(2 * std::numbers::pi))) {
    FW_EXPECTS(sigma.value > 0);
}

double RoundFootprint::at(double across_mm, double along_mm) const noexcept {
    const double r2 = (across_mm * across_mm + along_mm * along_mm) / (sigma_ * sigma_);
    if (r2 >= kRoundReach * kRoundReach) return 0;
    return std::exp(-r2 / 2) * peak_ * peak_;
}

Passed RoundFootprint::passed(Cut, double along_mm) const noexcept {
    const double t = along_mm / sigma_;
    if (t >= kRoundReach) return {1, 0};
    if (t <= -kRoundReach) return {0, 0};
    return {std::erfc(-t / std::numbers::sqrt2) / 2, -std::exp(-t * t / 2) * peak_ * sigma_ * sigma_};
}

FanFootprint::FanFootprint(Millimetres width, Millimetres depth, double taper_across, double taper_along)
    : a_(width.value / 2),
      B_(depth.value / 2),
      profile_(taper_across - 0.5),
      across_(taper_across - 1),
      depth_(taper_along - 1),
      along_(taper_along),
      peak_(1 / (a_ * beta_function(0.5, taper_across + 0.5))) {
    FW_EXPECTS(width.value > 0 && depth.value > 0);
    FW_EXPECTS(taper_across >= 1);
}

double FanFootprint::at(double across_mm, double along_mm) const noexcept {
    const double u = across_mm / a_;
    const double t = (1 - u) * (1 + u);
    if (!(t > 0)) return 0;
    const double v = along_mm / B_;
    const double rest = 1 - v * v / t;
    if (!(rest > 0)) return 0;
    return across_(t) * depth_(rest) * peak_ / (B_ * along_.total());
}

Footprint footprint_of(const Gun& gun) {
    if (gun.pattern == Pattern::round) return RoundFootprint(gun.sigma);
    return FanFootprint(gun.fan_width, gun.fan_depth, gun.beta_across, gun.beta_along);
}

double value_at(const Footprint& footprint, double across_mm, double along_mm) noexcept {
    return std::visit([&](const auto& f) { return f.at(across_mm, along_mm); }, footprint);
}

double pass_profile(const Footprint& footprint, double across_mm) noexcept {
    return std::visit([&](const auto& f) { return f.cut(across_mm).profile; }, footprint);
}

double distance_scale(const Gun& gun, std::optional<Millimetres> distance) noexcept {
    if (!distance || distance->value <= 0 || gun.distance.value <= 0) return 1;
    return *distance / gun.distance;
}

Millimetres pass_width(const Gun& gun, std::optional<Millimetres> distance) noexcept {
    const Millimetres at_reference = gun.pattern == Pattern::fan ? gun.fan_width : kSigmasInWidth * gun.sigma;
    return distance_scale(gun, distance) * at_reference;
}

}  // namespace fadewright::spray
