#include "fade_film.h"

#include "fadewright/plan/fade.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

namespace fadewright::plan {
namespace {

// Cost of neighbours that differ, as a share of what the fit itself costs: enough to tell passes apart whose
// films are nearly the same, too little to be seen in the film.
constexpr double kEvenness = 2e-3;
constexpr double kHardlyThere = 0.02;  // of what the best placed pass leaves on the panel
constexpr int kMostRounds = 4000;
constexpr double kSettled = 1e-7;  // change of an amount, as a share of the largest
constexpr double kLeastWeight = 0.1;
constexpr double kLeastFlow = 0.2;  // of the gun's; below that a gun spits. Starting value
constexpr int kMostRepeats = 50;

double rise(double u, double from, double to) {
    if (to > from) return (u - from) / (to - from);
    return u < from ? 0 : 1;
}

// Two digits, as a painter would set it.
double round_flow(double flow) {
    const double step = std::pow(10, std::floor(std::log10(flow)) - 1);
    return std::max(step, std::round(flow / step) * step);
}

struct Normal {
    std::vector<std::vector<double>> square;
    std::vector<double> right;
};

Normal normal_of(const std::vector<std::vector<double>>& columns, const std::vector<double>& wished) {
    const std::size_t n = columns.size();
    Normal normal{std::vector<std::vector<double>>(n, std::vector<double>(n)), std::vector<double>(n)};
    for (std::size_t a = 0; a < n; ++a) {
        for (std::size_t b = 0; b <= a; ++b)
            normal.square[a][b] = normal.square[b][a] =
                std::inner_product(columns[a].begin(), columns[a].end(), columns[b].begin(), 0.0);
        normal.right[a] = std::inner_product(columns[a].begin(), columns[a].end(), wished.begin(), 0.0);
    }
    std::vector<double> own(n);
    for (std::size_t a = 0; a < n; ++a) own[a] = normal.square[a][a];
    for (std::size_t a = 0; a + 1 < n; ++a) {
        const double cost = kEvenness * std::sqrt(own[a] * own[a + 1]);
        normal.square[a][a] += cost;
        normal.square[a + 1][a + 1] += cost;
        normal.square[a][a + 1] -= cost;
        normal.square[a + 1][a] -= cost;
    }
    return normal;
}

}  // namespace

double Growth::at(double s) const noexcept {
    s = std::clamp(s, 0.0, 1.0);
    if (shares_.empty()) return ramp_ == Ramp::soft ? 0.5 - 0.5 * std::cos(std::numbers::pi * s) : s;
    const double step = s * static_cast<double>(shares_.size() - 1);
    const std::size_t i = std::min(static_cast<std::size_t>(step), shares_.size() - 2);
    const double t = step - static_cast<double>(i);
    return shares_[i] + t * (shares_[i + 1] - shares_[i]);
}

// Where little film changes the colour much, an error of film counts for more.
double Growth::weight(double share) const noexcept {
    if (shares_.empty()) return 1;
    double most = 0, here = 0;
    for (std::size_t i = 0; i + 1 < shares_.size(); ++i) {
        const double change = 1 / std::max(1e-6, shares_[i + 1] - shares_[i]);
        most = std::max(most, change);
        if (shares_[i] <= share) here = change;
    }
    return std::clamp(here / most, kLeastWeight, 1.0);
}

double Band::share(double u_mm, const Growth& growth) const noexcept {
    const double up = growth.at(rise(u_mm, up_mm, full_mm));
    return std::isfinite(falls_mm) ? up * growth.at(1 - rise(u_mm, falls_mm, gone_mm)) : up;
}

double ten_to_ninety(Ramp ramp) noexcept {
    return ramp != Ramp::soft ? 0.8 : 1 - 2 * std::acos(0.8) / std::numbers::pi;
}

double edge_width_mm(const std::vector<double>& pass, double step_mm) {
    const double whole = std::accumulate(pass.begin(), pass.end(), 0.0);
    double sum = 0, ten = 0, ninety = 0;
    for (std::size_t i = 0; i < pass.size(); ++i) {
        const double next = sum + pass[i];
        const auto at = [&](double level) {
            return static_cast<double>(i) + (level * whole - sum) / pass[i];
        };
        if (sum < 0.1 * whole && next >= 0.1 * whole) ten = at(0.1);
        if (sum < 0.9 * whole && next >= 0.9 * whole) ninety = at(0.9);
        sum = next;
    }
    return (ninety - ten) * step_mm;
}

std::vector<bool> meet_panel(const std::vector<std::vector<double>>& films) {
    std::vector<double> peaks;
    for (const std::vector<double>& film : films)
        peaks.push_back(film.empty() ? 0 : *std::max_element(film.begin(), film.end()));
    const double highest = peaks.empty() ? 0 : *std::max_element(peaks.begin(), peaks.end());
    std::vector<bool> meet;
    for (const double peak : peaks) meet.push_back(peak > kHardlyThere * highest);
    return meet;
}

// Least squares on the normal equations, one amount after another, each held at or above 0 (projected
// Gauss-Seidel): with the cost of unevenness they are positive definite, so this settles.
std::vector<double> fitted_amounts(const std::vector<std::vector<double>>& columns,
                                   const std::vector<double>& wished) {
    const Normal normal = normal_of(columns, wished);
    std::vector<double> x(columns.size());
    for (int round = 0; round < kMostRounds; ++round) {
        double moved = 0, largest = 0;
        for (std::size_t a = 0; a < x.size(); ++a) {
            const double weight = normal.square[a][a];
            if (!(weight > 0)) continue;
            const double pull =
                normal.right[a] - std::inner_product(x.begin(), x.end(), normal.square[a].begin(), 0.0);
            const double next = std::max(0.0, x[a] + pull / weight);
            moved = std::max(moved, std::abs(next - x[a]));
            largest = std::max(largest, next);
            x[a] = next;
        }
        if (moved <= kSettled * largest) break;
    }
    return x;
}

double slowest(const PaceLimits& limits) noexcept {
    return std::max(kSlowest.value, 0.5 * limits.usual.value);
}

MillilitresPerMinute flow_for(double share, MillilitresPerMinute full) {
    const double part = std::clamp(share, kLeastFlow, 1.0);
    return part < 1 ? MillilitresPerMinute{round_flow(part * full.value)} : full;
}

Stroke stroke_for(double amount, double slowest_mm_s) {
    Stroke stroke;
    stroke.repeats = std::clamp(static_cast<int>(std::ceil(slowest_mm_s * amount - 1e-9)), 1, kMostRepeats);
    const double speed = std::clamp(stroke.repeats / amount, kSlowest.value, kFastest.value);
    const double step = (speed < kFineBelow.value ? 0.5 : 1) * kSpeedStep.value;
    stroke.speed = MillimetresPerSecond{std::round(speed / step) * step};
    return stroke;
}

Pace paced(const std::vector<double>& amounts, const PaceLimits& limits) {
    Pace pace{limits.full, std::vector<std::optional<Stroke>>(amounts.size())};
    const double largest = amounts.empty() ? 0 : *std::max_element(amounts.begin(), amounts.end());
    if (!(largest > 0)) return pace;
    double least = largest;
    for (const double a : amounts)
        if (a >= limits.smallest * largest) least = std::min(least, a);
    if (!limits.given) pace.flow = flow_for(kFastest.value * least, limits.full);
    const double part = pace.flow / limits.full;
    for (std::size_t i = 0; i < amounts.size(); ++i) {
        const double amount = amounts[i] / part;
        if (amounts[i] >= limits.smallest * largest && amount * kFastest.value >= 0.5)
            pace.strokes[i] = stroke_for(amount, slowest(limits));
    }
    return pace;
}

}  // namespace fadewright::plan
