#include "fadewright/calibration/film_from_colour.h"

#include "fadewright/colour/illuminant.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace fadewright::calibration {
namespace {

constexpr double kMaxScaleFilm_um = 2000;
constexpr double kInitialStep_codes = 0.25;  // from bare card to the next node
constexpr double kGrowth = 0.02;             // of the film, from node to node
constexpr double kExtension_codes = 16;      // linear extension of the line
constexpr std::size_t kStride = 16;          // of the coarse search

double to_codes(double linear) noexcept { return 255 * colour::srgb_from_linear(std::max(0.0, linear)); }

double squared_distance(const std::array<double, 3>& a, const std::array<double, 3>& b) noexcept {
    double sum = 0;
    for (std::size_t c = 0; c < 3; ++c) sum += (a[c] - b[c]) * (a[c] - b[c]);
    return sum;
}

colour::Rgb interpolate(const colour::Rgb& a, const colour::Rgb& b, double t) noexcept {
    return {a.r + t * (b.r - a.r), a.g + t * (b.g - a.g), a.b + t * (b.b - a.b)};
}

}  // namespace

ThicknessScale::Node ThicknessScale::make_node(double film_um, const colour::Rgb& linear) noexcept {
    return {film_um, linear, {to_codes(linear.r), to_codes(linear.g), to_codes(linear.b)}};
}

ThicknessScale::ThicknessScale(const paint::MixedPaint& mix, const colour::Reflectance& ground,
                               film::SaundersonCorrection surface) {
    const colour::TristimulusWeights weights = colour::tristimulus_weights(
        colour::standard_illuminant(colour::StandardIlluminant::D65), colour::Observer::two_degree);
    const auto at = [&](double film_um) {
        const auto R = film::through_surface(film::reflectance_over(mix, Micrometres{film_um}, ground),
                                             surface, film::Specular::excluded);
        return make_node(film_um, colour::to_linear_srgb(colour::to_xyz(R, weights), weights.white));
    };
    const Node bare = at(0), thickest = at(kMaxScaleFilm_um);
    const double step = kInitialStep_codes * kInitialStep_codes;
    double first = kMaxScaleFilm_um;
    while (squared_distance(at(first).code, bare.code) > step) first /= 2;

    // Above the bare card, with growing steps; then the same steps below it, extended linearly.
    std::vector<Node> above_bare{bare};
    for (int k = 1; above_bare.back().film_um < kMaxScaleFilm_um; ++k) {
        above_bare.push_back(at(std::min(kMaxScaleFilm_um, first * std::expm1(kGrowth * k) / kGrowth)));
        range_codes_ = std::max(range_codes_, std::sqrt(squared_distance(above_bare.back().code, bare.code)));
        if (squared_distance(above_bare.back().code, thickest.code) < step) break;
    }
    std::vector<Node> extension;
    const Node& next = above_bare[1];
    for (std::size_t k = 1; k < above_bare.size(); ++k) {
        const double film_um = -above_bare[k].film_um;
        extension.push_back(
            make_node(film_um, interpolate(bare.linear, next.linear, film_um / next.film_um)));
        if (squared_distance(extension.back().code, bare.code) > kExtension_codes * kExtension_codes) break;
    }
    nodes_.assign(extension.rbegin(), extension.rend());
    nodes_.insert(nodes_.end(), above_bare.begin(), above_bare.end());

    saturation_limit_um_ = nodes_.back().film_um;
    for (std::size_t k = above_bare.size() - 1; k > 1; --k) {
        const double change = std::sqrt(squared_distance(above_bare[k].code, above_bare[k - 1].code)) /
                              std::log(above_bare[k].film_um / above_bare[k - 1].film_um);
        if (change >= kMinCodeChange) break;
        saturation_limit_um_ = above_bare[k - 1].film_um;
    }
}

std::size_t ThicknessScale::node_below(double film_um) const noexcept {
    const auto above_bare = std::upper_bound(nodes_.begin() + 1, nodes_.end() - 1, film_um,
                                             [](double v, const Node& n) { return v < n.film_um; });
    return static_cast<std::size_t>(above_bare - nodes_.begin()) - 1;
}

colour::Rgb ThicknessScale::linear_colour(double film_um) const noexcept {
    const Node& a = nodes_[node_below(film_um)];
    const Node& b = nodes_[node_below(film_um) + 1];
    return interpolate(a.linear, b.linear, std::min(1.0, (film_um - a.film_um) / (b.film_um - a.film_um)));
}

double ThicknessScale::um_per_code(double film_um) const noexcept {
    const std::size_t k = node_below(std::max(film_um, 0.0));
    const double change = std::sqrt(squared_distance(nodes_[k].code, nodes_[k + 1].code));
    return (nodes_[k + 1].film_um - nodes_[k].film_um) / std::max(change, 1e-12);
}

ThicknessReading ThicknessScale::read(const colour::Rgb& linear) const noexcept {
    const Code code{to_codes(linear.r), to_codes(linear.g), to_codes(linear.b)};
    std::size_t nearest = 0;
    double min_distance = std::numeric_limits<double>::infinity();
    const auto consider = [&](std::size_t k) {
        const double d = squared_distance(nodes_[k].code, code);
        if (d < min_distance) {
            min_distance = d;
            nearest = k;
        }
    };
    for (std::size_t k = 0; k < nodes_.size(); k += kStride) consider(k);
    consider(nodes_.size() - 1);
    const std::size_t from = nearest - std::min(nearest, kStride);
    const std::size_t to = std::min(nodes_.size(), nearest + kStride + 1);
    for (std::size_t k = from; k < to; ++k) consider(k);

    // Between the nodes: the foot of the perpendicular on either piece of the line.
    ThicknessReading reading{nodes_[nearest].film_um, std::sqrt(min_distance), false};
    for (std::size_t k = nearest - std::min<std::size_t>(nearest, 1); k <= nearest && k + 1 < nodes_.size();
         ++k) {
        const Code &a = nodes_[k].code, &b = nodes_[k + 1].code;
        double along = 0;
        for (std::size_t c = 0; c < 3; ++c) along += (code[c] - a[c]) * (b[c] - a[c]);
        const double t = std::clamp(along / std::max(squared_distance(a, b), 1e-300), 0.0, 1.0);
        Code foot{};
        for (std::size_t c = 0; c < 3; ++c) foot[c] = a[c] + t * (b[c] - a[c]);
        const double d = squared_distance(foot, code);
        if (d > min_distance) continue;
        min_distance = d;
        reading.film_um = nodes_[k].film_um + t * (nodes_[k + 1].film_um - nodes_[k].film_um);
        reading.residual_codes = std::sqrt(d);
    }
    reading.saturated = reading.film_um > saturation_limit_um_;
    return reading;
}

}  // namespace fadewright::calibration
