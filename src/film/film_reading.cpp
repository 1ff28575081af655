#include "fadewright/film/film_reading.h"

#include "fadewright/colour/light.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace fadewright::film {
namespace {

constexpr double kMostFilm_um = 2000;
constexpr double kFirstStep_codes = 0.25;  // from bare card to the next node
constexpr double kGrowth = 0.02;           // of the film, from node to node
constexpr double kBelowBare_codes = 16;    // how far the line is carried on
constexpr std::size_t kStride = 16;        // of the coarse look

double codes(double linear) noexcept { return 255 * colour::srgb_encoded(std::max(0.0, linear)); }

double squared(const std::array<double, 3>& a, const std::array<double, 3>& b) noexcept {
    double sum = 0;
    for (std::size_t c = 0; c < 3; ++c) sum += (a[c] - b[c]) * (a[c] - b[c]);
    return sum;
}

colour::Rgb mixed(const colour::Rgb& a, const colour::Rgb& b, double t) noexcept {
    return {a.r + t * (b.r - a.r), a.g + t * (b.g - a.g), a.b + t * (b.b - a.b)};
}

}  // namespace

FilmScale::Node FilmScale::node(double film_um, const colour::Rgb& linear) noexcept {
    return {film_um, linear, {codes(linear.r), codes(linear.g), codes(linear.b)}};
}

FilmScale::FilmScale(const paint::MixedPaint& mix, const colour::Reflectance& ground, Skin skin) {
    const colour::Weights weights =
        colour::weights(colour::standard_light(colour::StandardLight::D65), colour::Observer::two_degree);
    const auto at = [&](double film_um) {
        const auto R = film::seen(over(mix, Micrometres{film_um}, ground), skin, Specular::excluded);
        return node(film_um, colour::to_linear_srgb(colour::to_xyz(R, weights), weights.white));
    };
    const Node bare = at(0), thickest = at(kMostFilm_um);
    const double step = kFirstStep_codes * kFirstStep_codes;
    double first = kMostFilm_um;
    while (squared(at(first).code, bare.code) > step) first /= 2;

    // Above the bare card, growing from a first step; then the same steps below it, carried on straight.
    std::vector<Node> above{bare};
    for (int k = 1; above.back().film_um < kMostFilm_um; ++k) {
        above.push_back(at(std::min(kMostFilm_um, first * std::expm1(kGrowth * k) / kGrowth)));
        reach_codes_ = std::max(reach_codes_, std::sqrt(squared(above.back().code, bare.code)));
        if (squared(above.back().code, thickest.code) < step) break;
    }
    std::vector<Node> under;
    const Node& next = above[1];
    for (std::size_t k = 1; k < above.size(); ++k) {
        const double film_um = -above[k].film_um;
        under.push_back(node(film_um, mixed(bare.linear, next.linear, film_um / next.film_um)));
        if (squared(under.back().code, bare.code) > kBelowBare_codes * kBelowBare_codes) break;
    }
    nodes_.assign(under.rbegin(), under.rend());
    nodes_.insert(nodes_.end(), above.begin(), above.end());

    darkest_um_ = nodes_.back().film_um;
    for (std::size_t k = above.size() - 1; k > 1; --k) {
        const double change = std::sqrt(squared(above[k].code, above[k - 1].code)) /
                              std::log(above[k].film_um / above[k - 1].film_um);
        if (change >= kFaintestChange) break;
        darkest_um_ = above[k - 1].film_um;
    }
}

std::size_t FilmScale::below(double film_um) const noexcept {
    const auto above = std::upper_bound(nodes_.begin() + 1, nodes_.end() - 1, film_um,
                                        [](double v, const Node& n) { return v < n.film_um; });
    return static_cast<std::size_t>(above - nodes_.begin()) - 1;
}

colour::Rgb FilmScale::seen(double film_um) const noexcept {
    const Node& a = nodes_[below(film_um)];
    const Node& b = nodes_[below(film_um) + 1];
    return mixed(a.linear, b.linear, std::min(1.0, (film_um - a.film_um) / (b.film_um - a.film_um)));
}

double FilmScale::um_per_code(double film_um) const noexcept {
    const std::size_t k = below(std::max(film_um, 0.0));
    const double change = std::sqrt(squared(nodes_[k].code, nodes_[k + 1].code));
    return (nodes_[k + 1].film_um - nodes_[k].film_um) / std::max(change, 1e-12);
}

ReadFilm FilmScale::read(const colour::Rgb& linear) const noexcept {
    const Code code{codes(linear.r), codes(linear.g), codes(linear.b)};
    std::size_t nearest = 0;
    double least = std::numeric_limits<double>::infinity();
    const auto look = [&](std::size_t k) {
        const double d = squared(nodes_[k].code, code);
        if (d < least) {
            least = d;
            nearest = k;
        }
    };
    for (std::size_t k = 0; k < nodes_.size(); k += kStride) look(k);
    look(nodes_.size() - 1);
    const std::size_t from = nearest - std::min(nearest, kStride);
    const std::size_t to = std::min(nodes_.size(), nearest + kStride + 1);
    for (std::size_t k = from; k < to; ++k) look(k);

    // Between the nodes: the foot of the perpendicular on either piece of the line.
    ReadFilm read{nodes_[nearest].film_um, std::sqrt(least), false};
    for (std::size_t k = nearest - std::min<std::size_t>(nearest, 1); k <= nearest && k + 1 < nodes_.size();
         ++k) {
        const Code &a = nodes_[k].code, &b = nodes_[k + 1].code;
        double along = 0;
        for (std::size_t c = 0; c < 3; ++c) along += (code[c] - a[c]) * (b[c] - a[c]);
        const double t = std::clamp(along / std::max(squared(a, b), 1e-300), 0.0, 1.0);
        Code foot{};
        for (std::size_t c = 0; c < 3; ++c) foot[c] = a[c] + t * (b[c] - a[c]);
        const double d = squared(foot, code);
        if (d > least) continue;
        least = d;
        read.film_um = nodes_[k].film_um + t * (nodes_[k + 1].film_um - nodes_[k].film_um);
        read.off_codes = std::sqrt(d);
    }
    read.too_dark = read.film_um > darkest_um_;
    return read;
}

}  // namespace fadewright::film
