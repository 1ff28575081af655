#include "fade_line.h"

#include "fadewright/base/contract.h"

#include <algorithm>
#include <cmath>

namespace fadewright::render {
namespace {

constexpr double kMostOverFlatter = 3;  // Fritsch & Carlson 1980: a cubic within it stays between its ends

// Slopes of the cubic at the given places.
std::vector<double> cubic_slopes(std::span<const FadePlace> places, double colour::Lab::*channel) {
    const std::size_t n = places.size();
    std::vector<double> chord(n - 1), slope(n);
    for (std::size_t i = 0; i + 1 < n; ++i)
        chord[i] =
            (places[i + 1].lab.*channel - places[i].lab.*channel) / (places[i + 1].at_mm - places[i].at_mm);
    for (std::size_t i = 1; i + 1 < n; ++i) {
        const double before = places[i].at_mm - places[i - 1].at_mm;
        const double after = places[i + 1].at_mm - places[i].at_mm;
        const double parabola = (after * chord[i - 1] + before * chord[i]) / (before + after);
        const double most = kMostOverFlatter * std::min(std::abs(chord[i - 1]), std::abs(chord[i]));
        slope[i] = std::clamp(parabola, -most, most);
    }
    slope[0] = chord[0];
    slope[n - 1] = chord[n - 2];
    return slope;
}

std::vector<double> even_values(std::span<const FadePlace> places, double colour::Lab::*channel, double start,
                                double step, std::size_t count) {
    const std::vector<double> slope = cubic_slopes(places, channel);
    std::vector<double> out(count);
    std::size_t piece = 0;
    for (std::size_t i = 0; i < count; ++i) {
        const double x = start + static_cast<double>(i) * step;
        while (piece + 2 < places.size() && places[piece + 1].at_mm < x) ++piece;
        const double h = places[piece + 1].at_mm - places[piece].at_mm;
        const double t = std::clamp((x - places[piece].at_mm) / h, 0.0, 1.0);
        const double u = 1 - t;
        const double from = places[piece].lab.*channel, to = places[piece + 1].lab.*channel;
        out[i] = u * u * (1 + 2 * t) * from + t * t * (1 + 2 * u) * to +
                 h * t * u * (u * slope[piece] - t * slope[piece + 1]);
    }
    return out;
}

// The line turned about its ends, `margin` steps beyond either; several turns if it is short.
std::vector<double> turned_out(std::span<const double> values, std::size_t margin) {
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

EvenLine even_line(std::span<const FadePlace> places, double longest_step_mm) {
    FW_EXPECTS(places.size() >= 3);
    FW_EXPECTS(longest_step_mm > 0);
    for (std::size_t i = 1; i < places.size(); ++i) FW_EXPECTS(places[i].at_mm > places[i - 1].at_mm);
    const double length = places.back().at_mm - places.front().at_mm;
    const double pairs = std::min(std::ceil(length / longest_step_mm / 2), (kMostPlaces - 1) / 2.0);
    const std::size_t count = 2 * static_cast<std::size_t>(std::max(1.0, pairs)) + 1;
    EvenLine out;
    out.start_mm = places.front().at_mm;
    out.step_mm = length / static_cast<double>(count - 1);
    out.L = even_values(places, &colour::Lab::L, out.start_mm, out.step_mm, count);
    out.a = even_values(places, &colour::Lab::a, out.start_mm, out.step_mm, count);
    out.b = even_values(places, &colour::Lab::b, out.start_mm, out.step_mm, count);
    return out;
}

std::vector<double> through(std::span<const double> values, std::span<const double> weights, Sides sides) {
    FW_EXPECTS(!weights.empty());
    const std::size_t reach = weights.size() - 1;
    const std::vector<double> wide = turned_out(values, reach);
    const double sign = sides == Sides::alike ? 1 : -1;
    std::vector<double> out(values.size());
    for (std::size_t i = 0; i < out.size(); ++i) {
        const double* middle = wide.data() + i + reach;
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
    return through(values, weights, Sides::opposite);
}

}  // namespace fadewright::render
