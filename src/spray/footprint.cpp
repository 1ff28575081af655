#include "fadewright/spray/footprint.h"

#include "fadewright/base/contract.h"

#include <algorithm>
#include <numbers>

namespace fadewright::spray {
namespace {

constexpr double kSigmasInWidth = 4;

// Point by point, for footprints without a vectorised version.
template <class Footprint>
void evaluate_each(const Footprint& footprint, const kernels::fast::PuffRays& rays,
                   kernels::fast::PuffShares& out) noexcept {
    for (std::size_t i = 0; i < rays.count; ++i)
        out[i] = rays.weight[i] == 0 ? 0 : footprint.at(rays.across[i], rays.along[i]);
}

}  // namespace

RoundFootprint::RoundFootprint(Millimetres sigma, Share ring)
    : sigma_(sigma.value), ring_(ring.value), peak_(1 / (sigma.value * std::sqrt(2 * std::numbers::pi))) {
    FW_EXPECTS(sigma.value > 0);
    FW_EXPECTS(ring.value >= 0 && ring.value <= 1);
}

double RoundFootprint::at(double across_mm, double along_mm) const noexcept {
    const double r2 = (across_mm * across_mm + along_mm * along_mm) / (sigma_ * sigma_);
    if (r2 >= kRoundReach * kRoundReach) return 0;
    return (1 - ring_ + ring_ * r2 / 2) * std::exp(-r2 / 2) * peak_ * peak_;
}

void RoundFootprint::at(const kernels::fast::PuffRays& rays, kernels::fast::PuffShares& out) const noexcept {
    kernels::fast::eval_gaussians(rays, {sigma_, ring_, peak_ * peak_, kRoundReach}, out);
}

// With t in standard deviations: the Gaussian's tail; for t^2 g(t), the same less t g(t).
Cumulative RoundFootprint::cumulative(Slice slice, double along_mm) const noexcept {
    const double t = along_mm / sigma_;
    if (t >= kRoundReach) return {1, 0};
    if (t <= -kRoundReach) return {0, 0};
    const double density = std::exp(-t * t / 2) * peak_ * sigma_;
    const double share = std::erfc(-t / std::numbers::sqrt2) / 2;
    if (slice.ring == 0) return {share, -density * sigma_};
    return {share - slice.ring * t * density, -sigma_ * density * (1 + slice.ring * (t * t + 1))};
}

FanFootprint::FanFootprint(Millimetres width, Millimetres thickness, double taper_across, double taper_along)
    : a_(width.value / 2),
      B_(thickness.value / 2),
      profile_(taper_across - 0.5),
      across_(taper_across - 1),
      thickness_(taper_along - 1),
      along_(taper_along),
      peak_(1 / (a_ * beta_function(0.5, taper_across + 0.5))) {
    FW_EXPECTS(width.value > 0 && thickness.value > 0);
    FW_EXPECTS(taper_across >= 1);
}

double FanFootprint::at(double across_mm, double along_mm) const noexcept {
    const double u = across_mm / a_;
    const double t = (1 - u) * (1 + u);
    if (!(t > 0)) return 0;
    const double v = along_mm / B_;
    const double rest = 1 - v * v / t;
    if (!(rest > 0)) return 0;
    return across_(t) * thickness_(rest) * peak_ / (B_ * along_.total());
}

void FanFootprint::at(const kernels::fast::PuffRays& rays, kernels::fast::PuffShares& out) const noexcept {
    if (across_.halves() < 0 || thickness_.halves() < 0) return evaluate_each(*this, rays, out);
    kernels::fast::eval_elliptical_betas(
        rays, {a_, B_, across_.halves(), thickness_.halves(), peak_ / (B_ * along_.total())}, out);
}

MeasuredFootprint::MeasuredFootprint(const std::vector<double>& profile, Millimetres width,
                                     Millimetres thickness, double taper_along)
    : a_(width.value / 2),
      B_(thickness.value / 2),
      step_(width.value / static_cast<double>(profile.size() - 1)),
      profile_(profile),
      thickness_(taper_along - 1),
      along_(taper_along) {
    FW_EXPECTS(width.value > 0 && thickness.value > 0 && profile.size() >= 2);
    double sum = 0;
    for (std::size_t i = 1; i < profile_.size(); ++i) sum += step_ * (profile_[i - 1] + profile_[i]) / 2;
    FW_EXPECTS(sum > 0);
    for (double& p : profile_) p /= sum;
}

double MeasuredFootprint::at(double across_mm, double along_mm) const noexcept {
    const double v = along_mm / B_;
    const double rest = (1 - v) * (1 + v);
    if (!(rest > 0)) return 0;
    return slice(across_mm).profile * thickness_(rest) / (B_ * along_.total());
}

void MeasuredFootprint::at(const kernels::fast::PuffRays& rays,
                           kernels::fast::PuffShares& out) const noexcept {
    evaluate_each(*this, rays, out);
}

Footprint footprint_of(const Gun& gun) {
    if (gun.pattern == Pattern::round) return RoundFootprint(gun.sigma, gun.ring);
    if (gun.pattern == Pattern::measured)
        return MeasuredFootprint(gun.profile, gun.fan_width, gun.fan_thickness, gun.beta_along);
    return FanFootprint(gun.fan_width, gun.fan_thickness, gun.beta_across, gun.beta_along);
}

double value_at(const Footprint& footprint, double across_mm, double along_mm) noexcept {
    return std::visit([&](const auto& f) { return f.at(across_mm, along_mm); }, footprint);
}

double pass_profile(const Footprint& footprint, double across_mm) noexcept {
    return std::visit([&](const auto& f) { return f.slice(across_mm).profile; }, footprint);
}

namespace {

// Of (1 - u^2)^(p - 1) over -1 to 1.
double beta_deviation(double p) noexcept { return std::sqrt(1 / (2 * p + 1)); }

double profile_deviation(const MeasuredFootprint& f) noexcept {
    constexpr int steps = 400;
    double sum = 0, moment = 0, square = 0;
    for (int i = 0; i < steps; ++i) {
        const double x = f.reach_across_mm() * (2 * (i + 0.5) / steps - 1);
        const double p = f.slice(x).profile;
        sum += p;
        moment += p * x;
        square += p * x * x;
    }
    return std::sqrt(std::max(0.0, square / sum - moment * moment / (sum * sum)));
}

}  // namespace

Spread spread_of(const Gun& gun) {
    if (gun.pattern == Pattern::round) {  // the ring raises the variance: sigma^2 (1 + m) each way
        const double sigma = gun.sigma.value * std::sqrt(1 + gun.ring.value);
        return {sigma, sigma};
    }
    if (gun.pattern == Pattern::measured) {
        const auto f = std::get<MeasuredFootprint>(footprint_of(gun));
        return {profile_deviation(f), f.reach_along_mm() * beta_deviation(gun.beta_along)};
    }
    const double a = gun.fan_width.value / 2;
    const double B = gun.fan_thickness.value / 2;
    // The slices of a fan are as narrow as the ellipse there: mean of 1 - u^2 over the pass.
    const double narrowed = (gun.beta_across + 0.5) / (gun.beta_across + 1);
    return {a * beta_deviation(gun.beta_across + 0.5),
            B * beta_deviation(gun.beta_along) * std::sqrt(narrowed)};
}

double distance_scale(const Gun& gun, std::optional<Millimetres> distance) noexcept {
    if (!distance || distance->value <= 0 || gun.distance.value <= 0) return 1;
    return *distance / gun.distance;
}

Millimetres pass_width(const Gun& gun, std::optional<Millimetres> distance) noexcept {
    const Millimetres at_reference =
        gun.pattern == Pattern::round ? kSigmasInWidth * gun.sigma : gun.fan_width;
    return distance_scale(gun, distance) * at_reference;
}

}  // namespace fadewright::spray
