#include "fadewright/assess/fade_metrics.h"

#include "resampled_line.h"

#include "fadewright/base/contract.h"
#include "fadewright/colour/delta_e.h"
#include "fadewright/colour/visibility.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>
#include <vector>

namespace fadewright::assess {
namespace {

using colour::kMaxFrequency_per_deg, colour::kFitWidthShare;

// Maximum of the parabola through three neighbours of which the middle one is the largest.
double peak(double before, double middle, double after) noexcept {
    const double bend = before - 2 * middle + after;
    return bend == 0 ? std::abs(middle) : std::abs(middle - (after - before) * (after - before) / (8 * bend));
}

// Visible deviation of the lightness from a smooth curve.
struct Banding {
    double over_threshold = 0;
    double at_mm = 0;
};

// The strongest banding of a fade of this width (10 to 90 %).
Banding strongest_banding(std::span<const FadeSample> samples, double width_mm, const ViewCondition& view) {
    const double mm_per_deg = colour::millimetres_per_degree(view.distance).value;
    const ResampledLine line = resample_line(samples, mm_per_deg / (2 * kMaxFrequency_per_deg));
    const double step_deg = line.step_mm / mm_per_deg;
    const double fit_deg = kFitWidthShare * width_mm / mm_per_deg;
    const std::vector<double> response =
        convolve(line.L, colour::banding_filter(fit_deg, step_deg, view.field), Symmetry::even);
    const double ignored_mm = colour::kUnassessedShare * width_mm;
    const double last_mm = line.position_mm(line.size() - 1);
    Banding out;
    out.at_mm = (line.start_mm + last_mm) / 2;
    for (std::size_t i = 1; i + 1 < line.size(); ++i) {
        const double x = line.position_mm(i);
        if (x < line.start_mm + ignored_mm || x > last_mm - ignored_mm) continue;
        const double size = std::abs(response[i]);
        if (size < std::abs(response[i - 1]) || size < std::abs(response[i + 1])) continue;
        const double over_threshold = colour::contrast_of_lightness_step(
            std::max(line.L[i], colour::kMinBanding_L), peak(response[i - 1], response[i], response[i + 1]));
        if (over_threshold > out.over_threshold) out = {over_threshold, x};
    }
    return out;
}

using colour::Lab;

constexpr double kStepOfWidth = 1.0 / 200;      // of the resampled line
constexpr double kSlopeHalf = 1.0 / 20;         // of the width, to either side
constexpr double kAbruptnessSpread = 1.0 / 10;  // of the width
constexpr double kMinRange_L = 1;               // L*

double length(const Lab& v) noexcept { return std::hypot(v.L, v.a, v.b); }

// Mean of the first position where t has reached the share and the last where it has not yet exceeded it.
double crossing(std::span<const FadeSample> samples, std::span<const double> t, double share) {
    const auto between = [&](std::size_t i) {
        const double part = (share - t[i]) / (t[i + 1] - t[i]);
        return samples[i].position_mm + part * (samples[i + 1].position_mm - samples[i].position_mm);
    };
    std::size_t first = 0, last = t.size() - 2;
    while (t[first + 1] < share) ++first;
    while (t[last] > share) --last;
    return (between(first) + between(last)) / 2;
}

void measure_width(std::span<const FadeSample> samples, FadeMetrics& out) {
    const Lab &start = samples.front().lab, &end = samples.back().lab;
    std::vector<double> t;
    t.reserve(samples.size());
    for (const FadeSample& sample : samples) {
        const double from_start = delta_e_76(sample.lab, start);
        t.push_back(from_start / (from_start + delta_e_76(sample.lab, end)));
    }
    out.at_10 = Millimetres{crossing(samples, t, 0.1)};
    out.at_half = Millimetres{crossing(samples, t, 0.5)};
    out.at_90 = Millimetres{crossing(samples, t, 0.9)};
    out.width = out.at_90 - out.at_10;
    out.angular_width = Degrees{out.width / colour::millimetres_per_degree(out.view.distance)};
}

// dE00 per mm of a small change at a colour.
double local_delta_e(const Lab& at, const Lab& per_mm) {
    const double size = length(per_mm);
    if (size == 0) return 0;
    constexpr double kSmall = 0.02;
    const double half = kSmall / 2 / size;
    return colour::delta_e_2000({at.L - half * per_mm.L, at.a - half * per_mm.a, at.b - half * per_mm.b},
                                {at.L + half * per_mm.L, at.a + half * per_mm.a, at.b + half * per_mm.b}) /
           (2 * half);
}

void measure_slopes(const ResampledLine& line, FadeMetrics& out) {
    const double half = kSlopeHalf * out.width.value;
    const std::vector<double> L = line_slopes(line.L, line.step_mm, half);
    const std::vector<double> a = line_slopes(line.a, line.step_mm, half);
    const std::vector<double> b = line_slopes(line.b, line.step_mm, half);
    const double mm_per_deg = colour::millimetres_per_degree(out.view.distance).value;
    const double lowest = colour::threshold_slope_per_deg(out.view.field);

    double steepest_path = 0, path = 0, path_00 = 0, count = 0;
    for (std::size_t i = 0; i < line.size(); ++i) {
        const Millimetres x{line.position_mm(i)};
        const Lab slope{L[i], a[i], b[i]};
        const double slope_00 = local_delta_e(line.lab(i), slope);
        if (slope_00 > out.steepest_per_mm) out.steepest_per_mm = slope_00, out.steepest_at = x;
        const double slope_L = std::abs(L[i]) * mm_per_deg;
        if (slope_L > out.steepest_L_per_deg) out.steepest_L_per_deg = slope_L, out.steepest_L_at = x;
        const double contrast = colour::contrast_of_lightness_step(std::max(line.L[i], 1.0), slope_L);
        out.slope_over_threshold = std::max(out.slope_over_threshold, contrast / lowest);
        if (x < out.at_10 || x > out.at_90) continue;
        steepest_path = std::max(steepest_path, length(slope));
        path += length(slope);
        path_00 += slope_00;
        count += 1;
    }
    out.steepest_per_deg = out.steepest_per_mm * mm_per_deg;
    out.mean_per_mm = path_00 / count;
    out.steepest_over_mean = steepest_path * count / path;
}

// Colour differences half a step width to either side of every point of the resampled line.
void measure_largest_step(const ResampledLine& line, FadeMetrics& out) {
    const double mm_per_deg = colour::millimetres_per_degree(out.view.distance).value;
    const std::size_t last = line.size() - 1;
    const double half =
        std::min(colour::kRampAsStepWidth.value * mm_per_deg / line.step_mm, static_cast<double>(last)) / 2;
    const auto whole = static_cast<std::size_t>(half);
    const auto reach = static_cast<std::size_t>(std::ceil(half));
    const double rest = half - static_cast<double>(whole);
    const auto between = [&](std::size_t near, std::size_t far) -> Lab {
        const Lab n = line.lab(near), f = line.lab(far);
        return {n.L + rest * (f.L - n.L), n.a + rest * (f.a - n.a), n.b + rest * (f.b - n.b)};
    };
    for (std::size_t i = reach; i + reach <= last; ++i) {
        const double step =
            colour::delta_e_2000(between(i - whole, i - reach), between(i + whole, i + reach));
        if (step > out.largest_step)
            out.largest_step = step, out.largest_step_at = Millimetres{line.position_mm(i)};
    }
}

// The second Gaussian derivative over the first. Source: [wallis2012].
void measure_abruptness(const ResampledLine& line, FadeMetrics& out) {
    const auto [lowest, highest] = std::minmax_element(line.L.begin(), line.L.end());
    if (*highest - *lowest < kMinRange_L) return;
    const double w = kAbruptnessSpread * out.width.value;
    constexpr double kReach = 5;
    const auto reach = static_cast<std::size_t>(std::ceil(kReach * w / line.step_mm));
    std::vector<double> first(reach + 1), second(reach + 1);
    double rest_sum = 0;
    for (std::size_t i = 0; i <= reach; ++i) {  // in units of w
        const double x = static_cast<double>(i) * line.step_mm / w;
        const double bell = std::exp(-x * x / 2);
        first[i] = x * bell;
        second[i] = (x * x - 1) * bell;
        if (i > 0) rest_sum += 2 * second[i];
    }
    second[0] = -rest_sum;  // zero for a constant slope
    const std::vector<double> slope = convolve(line.L, first, Symmetry::odd);
    const std::vector<double> bend = convolve(line.L, second, Symmetry::even);
    double steepest = 0;
    for (const double s : slope) steepest = std::max(steepest, std::abs(s));
    for (std::size_t i = 0; i < bend.size(); ++i) {
        const double corner = std::abs(bend[i]) / steepest;
        if (corner > out.abruptness)
            out.abruptness = corner, out.abruptness_at = Millimetres{line.position_mm(i)};
    }
}

double hue_difference_deg(const Lab& first, const Lab& second) noexcept {
    const double across = first.a * second.b - first.b * second.a,
                 along = first.a * second.a + first.b * second.b;
    return std::abs(std::atan2(across, along)) * 180 / std::numbers::pi;
}

void measure_colour_path(std::span<const FadeSample> samples, FadeMetrics& out) {
    const Lab &start = samples.front().lab, &end = samples.back().lab;
    const Lab path{end.L - start.L, end.a - start.a, end.b - start.b};
    const double path_2 = path.L * path.L + path.a * path.a + path.b * path.b;
    for (const FadeSample& sample : samples) {
        const Lab& lab = sample.lab;
        const double along =
            (lab.L - start.L) * path.L + (lab.a - start.a) * path.a + (lab.b - start.b) * path.b;
        const double q = std::clamp(along / path_2, 0.0, 1.0);
        const Lab straight{start.L + q * path.L, start.a + q * path.a, start.b + q * path.b};
        const double C = std::hypot(lab.a, lab.b), C_straight = std::hypot(straight.a, straight.b);
        if (C_straight - C > out.chroma_loss) {
            out.chroma_loss = C_straight - C;
            out.chroma_loss_share = out.chroma_loss / C_straight;
            out.chroma_loss_at = Millimetres{sample.position_mm};
        }
        if (C <= colour::kMinFadeChroma || C_straight <= colour::kMinFadeChroma) continue;
        const Degrees shift{hue_difference_deg(lab, straight)};
        if (shift > out.hue_shift) out.hue_shift = shift, out.hue_shift_at = Millimetres{sample.position_mm};
    }
}

// sign: 1 for a fade that should get lighter, -1 for one that should get darker.
void measure_reversal(std::span<const FadeSample> samples, FadeMetrics& out) {
    const auto deepest = [samples](double sign) {
        double extreme = sign * samples.front().lab.L, fall = 0, at = samples.front().position_mm;
        for (const FadeSample& sample : samples) {
            extreme = std::max(extreme, sign * sample.lab.L);
            if (extreme - sign * sample.lab.L > fall)
                fall = extreme - sign * sample.lab.L, at = sample.position_mm;
        }
        return std::pair{fall, at};
    };
    const auto [fall, at] = std::min(deepest(1), deepest(-1));
    out.reversal = fall;
    out.reversal_at = Millimetres{at};
}

}  // namespace

std::optional<FadeMetrics> fade_metrics(std::span<const FadeSample> samples, const ViewCondition& view) {
    FW_EXPECTS(samples.size() >= 3);
    FW_EXPECTS(view.distance.value > 0);
    if (delta_e_76(samples.front().lab, samples.back().lab) < colour::kIndistinguishable_dE)
        return std::nullopt;
    FadeMetrics out;
    out.view = view;
    measure_width(samples, out);
    const ResampledLine line = resample_line(samples, kStepOfWidth * out.width.value);
    measure_slopes(line, out);
    measure_largest_step(line, out);
    measure_abruptness(line, out);
    measure_colour_path(samples, out);
    measure_reversal(samples, out);
    const Banding strongest = strongest_banding(samples, out.width.value, view);
    out.banding_over_threshold = strongest.over_threshold;
    out.banding_at = Millimetres{strongest.at_mm};
    out.banding = colour::visibility(strongest.over_threshold);
    return out;
}

}  // namespace fadewright::assess
