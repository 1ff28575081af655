#include "resampled_line.h"

#include "fadewright/base/contract.h"

#include <algorithm>
#include <cmath>

namespace fadewright::assess {
namespace {

constexpr double kMaxOverFlatter = 3;  // a cubic within it stays between its ends [fritsch1980]

// Slopes of the cubic at the samples.
std::vector<double> cubic_slopes(std::span<const FadeSample> samples, double colour::Lab::*channel) {
    const std::size_t n = samples.size();
    std::vector<double> chord(n - 1), slope(n);
    for (std::size_t i = 0; i + 1 < n; ++i)
        chord[i] = (samples[i + 1].lab.*channel - samples[i].lab.*channel) /
                   (samples[i + 1].position_mm - samples[i].position_mm);
    for (std::size_t i = 1; i + 1 < n; ++i) {
        const double before = samples[i].position_mm - samples[i - 1].position_mm;
        const double after = samples[i + 1].position_mm - samples[i].position_mm;
        const double parabola = (after * chord[i - 1] + before * chord[i]) / (before + after);
        const double limit = kMaxOverFlatter * std::min(std::abs(chord[i - 1]), std::abs(chord[i]));
        slope[i] = std::clamp(parabola, -limit, limit);
    }
    slope[0] = chord[0];
    slope[n - 1] = chord[n - 2];
    return slope;
}

std::vector<double> resample(std::span<const FadeSample> samples, double colour::Lab::*channel, double start,
                             double step, std::size_t count) {
    const std::vector<double> slope = cubic_slopes(samples, channel);
    std::vector<double> out(count);
    std::size_t interval = 0;
    for (std::size_t i = 0; i < count; ++i) {
        const double x = start + static_cast<double>(i) * step;
        while (interval + 2 < samples.size() && samples[interval + 1].position_mm < x) ++interval;
        const double h = samples[interval + 1].position_mm - samples[interval].position_mm;
        const double t = std::clamp((x - samples[interval].position_mm) / h, 0.0, 1.0);
        const double u = 1 - t;
        const double from = samples[interval].lab.*channel, to = samples[interval + 1].lab.*channel;
        out[i] = u * u * (1 + 2 * t) * from + t * t * (1 + 2 * u) * to +
                 h * t * u * (u * slope[interval] - t * slope[interval + 1]);
    }
    return out;
}

// The line continued by point reflection, `margin` steps beyond either end; repeatedly if it is short.
std::vector<double> extend_by_reflection(std::span<const double> values, std::size_t margin) {
    const auto n = static_cast<std::ptrdiff_t>(values.size());
    const auto m = static_cast<std::ptrdiff_t>(margin);
    const auto value = [values, n](std::ptrdiff_t i) {
        double shift = 0, sign = 1;
        const auto at = [values](std::ptrdiff_t k) { return values[static_cast<std::size_t>(k)]; };
        while (i < 0 || i >= n) {
            const std::ptrdiff_t end = i < 0 ? 0 : n - 1;
            shift += sign * 2 * at(end);
            sign = -sign;
            i = 2 * end - i;
        }
        return shift + sign * at(i);
    };
    std::vector<double> out;
    out.reserve(values.size() + 2 * margin);
    for (std::ptrdiff_t i = -m; i < n + m; ++i) out.push_back(value(i));
    return out;
}

}  // namespace

ResampledLine resample_line(std::span<const FadeSample> samples, double max_step_mm) {
    FW_EXPECTS(samples.size() >= 3);
    FW_EXPECTS(max_step_mm > 0);
    for (std::size_t i = 1; i < samples.size(); ++i)
        FW_EXPECTS(samples[i].position_mm > samples[i - 1].position_mm);
    const double length = samples.back().position_mm - samples.front().position_mm;
    const double pairs = std::min(std::ceil(length / max_step_mm / 2), (kMaxSamples - 1) / 2.0);
    const std::size_t count = 2 * static_cast<std::size_t>(std::max(1.0, pairs)) + 1;
    ResampledLine out;
    out.start_mm = samples.front().position_mm;
    out.step_mm = length / static_cast<double>(count - 1);
    out.L = resample(samples, &colour::Lab::L, out.start_mm, out.step_mm, count);
    out.a = resample(samples, &colour::Lab::a, out.start_mm, out.step_mm, count);
    out.b = resample(samples, &colour::Lab::b, out.start_mm, out.step_mm, count);
    return out;
}

std::vector<double> convolve(std::span<const double> values, std::span<const double> weights,
                             Symmetry symmetry) {
    FW_EXPECTS(!weights.empty());
    const std::size_t reach = weights.size() - 1;
    const std::vector<double> extended = extend_by_reflection(values, reach);
    const double sign = symmetry == Symmetry::even ? 1 : -1;
    std::vector<double> out(values.size());
    for (std::size_t i = 0; i < out.size(); ++i) {
        const double* middle = extended.data() + i + reach;
        double sum = weights[0] * *middle;
        for (std::size_t k = 1; k <= reach; ++k) sum += weights[k] * (*(middle + k) + sign * *(middle - k));
        out[i] = sum;
    }
    return out;
}

std::vector<double> line_slopes(std::span<const double> values, double step_mm, double half_mm) {
    FW_EXPECTS(step_mm > 0);
    const auto reach = static_cast<std::size_t>(std::max(1.0, std::round(half_mm / step_mm)));
    std::vector<double> weights(reach + 1);
    double squares = 0;
    for (std::size_t k = 1; k <= reach; ++k) {
        weights[k] = static_cast<double>(k);
        squares += 2 * weights[k] * weights[k];
    }
    for (double& weight : weights) weight /= squares * step_mm;
    return convolve(values, weights, Symmetry::odd);
}

}  // namespace fadewright::assess
