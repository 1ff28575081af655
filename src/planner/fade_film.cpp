#include "fade_film.h"

#include "bounded_quadratic.h"
#include "fadewright/planner/fade.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

namespace fadewright::planner {
namespace {

// Cost of differences between neighbours, as a share of the cost of the fit: enough to make passes with
// nearly equal films unique, too little to be visible in the film.
constexpr double kUnevennessCost = 2e-3;
constexpr double kMinFilmShare = 0.02;  // of what the best line leaves on the panel
constexpr double kMinWeight = 0.1;
constexpr double kMinFlowShare = 0.2;  // of the gun's flow; below it a gun spits. Starting value
constexpr int kMaxRepeats = 50;

double ramp_position(double u, double from, double to) {
    if (to > from) return (u - from) / (to - from);
    return u < from ? 0 : 1;
}

// Two digits, as a painter would set it.
double round_flow(double flow) {
    const double step = std::pow(10, std::floor(std::log10(flow)) - 1);
    return std::max(step, std::round(flow / step) * step);
}

}  // namespace

double RampProfile::share_at(double s) const noexcept {
    s = std::clamp(s, 0.0, 1.0);
    if (shares_.empty()) return ramp_ == plan::Ramp::smooth ? 0.5 - 0.5 * std::cos(std::numbers::pi * s) : s;
    const double step = s * static_cast<double>(shares_.size() - 1);
    const std::size_t i = std::min(static_cast<std::size_t>(step), shares_.size() - 2);
    const double t = step - static_cast<double>(i);
    return shares_[i] + t * (shares_[i + 1] - shares_[i]);
}

// Where little film changes the colour a lot, film errors have more weight.
double RampProfile::error_weight(double share) const noexcept {
    if (shares_.empty()) return 1;
    double max_change = 0, change_here = 0;
    for (std::size_t i = 0; i + 1 < shares_.size(); ++i) {
        const double change = 1 / std::max(1e-6, shares_[i + 1] - shares_[i]);
        max_change = std::max(max_change, change);
        if (shares_[i] <= share) change_here = change;
    }
    return std::clamp(change_here / max_change, kMinWeight, 1.0);
}

double RampZone::share(double u_mm, const RampProfile& profile) const noexcept {
    const double up = profile.share_at(ramp_position(u_mm, rise_start_mm, rise_end_mm));
    return std::isfinite(fall_start_mm)
               ? up * profile.share_at(1 - ramp_position(u_mm, fall_start_mm, fall_end_mm))
               : up;
}

double ten_to_ninety_share(plan::Ramp ramp) noexcept {
    return ramp != plan::Ramp::smooth ? 0.8 : 1 - 2 * std::acos(0.8) / std::numbers::pi;
}

double edge_width_mm(const std::vector<double>& pass, double step_mm) {
    const double total = std::accumulate(pass.begin(), pass.end(), 0.0);
    double sum = 0, ten = 0, ninety = 0;
    for (std::size_t i = 0; i < pass.size(); ++i) {
        const double next = sum + pass[i];
        const auto at = [&](double level) {
            return static_cast<double>(i) + (level * total - sum) / pass[i];
        };
        if (sum < 0.1 * total && next >= 0.1 * total) ten = at(0.1);
        if (sum < 0.9 * total && next >= 0.9 * total) ninety = at(0.9);
        sum = next;
    }
    return (ninety - ten) * step_mm;
}

std::vector<bool> lines_reaching_panel(const std::vector<std::vector<double>>& films) {
    std::vector<double> peaks;
    for (const std::vector<double>& film : films)
        peaks.push_back(film.empty() ? 0 : *std::max_element(film.begin(), film.end()));
    const double highest = peaks.empty() ? 0 : *std::max_element(peaks.begin(), peaks.end());
    std::vector<bool> reaches;
    for (const double peak : peaks) reaches.push_back(peak > kMinFilmShare * highest);
    return reaches;
}

// Least squares by the normal equations; with the cost of unevenness they are positive definite.
std::vector<double> fit_amounts(const std::vector<std::vector<double>>& columns,
                                const std::vector<double>& target_film) {
    const std::size_t n = columns.size();
    Eigen::MatrixXd films(static_cast<Eigen::Index>(target_film.size()), static_cast<Eigen::Index>(n));
    for (std::size_t a = 0; a < n; ++a) films.col(static_cast<Eigen::Index>(a)) = as_vector(columns[a]);
    BoundedQuadratic quadratic(n);
    quadratic.matrix = films.transpose() * films;
    quadratic.rhs = films.transpose() * as_vector(target_film);
    const Eigen::VectorXd curvatures = quadratic.matrix.diagonal();
    for (Eigen::Index a = 0; a + 1 < films.cols(); ++a)
        quadratic.add_unevenness(kUnevennessCost, curvatures, a);
    return minimise(quadratic, std::vector<double>(n), std::vector<bool>(n), std::vector<double>(n));
}

double min_speed(const PassSpeedLimits& limits) noexcept {
    return std::max(kMinSpeed.value, 0.5 * limits.default_speed.value);
}

MillilitresPerMinute flow_at_share(double share, MillilitresPerMinute full) {
    const double part = std::clamp(share, kMinFlowShare, 1.0);
    return part < 1 ? MillilitresPerMinute{round_flow(part * full.value)} : full;
}

SpeedAndRepeats speed_and_repeats(double amount, double min_speed_mm_s) {
    SpeedAndRepeats setting;
    setting.repeats = std::clamp(static_cast<int>(std::ceil(min_speed_mm_s * amount - 1e-9)), 1, kMaxRepeats);
    const double speed = std::clamp(setting.repeats / amount, kMinSpeed.value, kMaxSpeed.value);
    const double step = (speed < kFineSpeedBelow.value ? 0.5 : 1) * kSpeedStep.value;
    setting.speed = MillimetresPerSecond{std::round(speed / step) * step};
    return setting;
}

PassSpeeds pass_speeds(const std::vector<double>& amounts, const PassSpeedLimits& limits) {
    PassSpeeds speeds{limits.full_flow, std::vector<std::optional<SpeedAndRepeats>>(amounts.size())};
    const double largest = amounts.empty() ? 0 : *std::max_element(amounts.begin(), amounts.end());
    if (!(largest > 0)) return speeds;
    double smallest = largest;
    for (const double a : amounts)
        if (a >= limits.min_amount_share * largest) smallest = std::min(smallest, a);
    if (!limits.flow_given) speeds.flow = flow_at_share(kMaxSpeed.value * smallest, limits.full_flow);
    const double part = speeds.flow / limits.full_flow;
    for (std::size_t i = 0; i < amounts.size(); ++i) {
        const double amount = amounts[i] / part;
        if (amounts[i] >= limits.min_amount_share * largest && amount * kMaxSpeed.value >= 0.5)
            speeds.passes[i] = speed_and_repeats(amount, min_speed(limits));
    }
    return speeds;
}

}  // namespace fadewright::planner
