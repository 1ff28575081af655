#include "fadewright/film/stack_colour.h"

#include "fadewright/base/contract.h"
#include "fadewright/film/angled.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace fadewright::film {
namespace {

using colour::kBandCount;
using colour::Lab;
using colour::XYZ;

struct Slope {
    double X = 0, Y = 0, Z = 0;
};

// Slope of CIE Lab's cube root, straight near black (colour/lab.h).
double root_slope(double t) noexcept {
    constexpr double kDelta = 6.0 / 29;
    if (t <= kDelta * kDelta * kDelta) return 1 / (3 * kDelta * kDelta);
    const double root = std::cbrt(t);
    return 1 / (3 * root * root);
}

Lab lab_slope(const XYZ& at, const XYZ& white, const Slope& d) noexcept {
    const double x = root_slope(at.X / white.X) * d.X / white.X;
    const double y = root_slope(at.Y / white.Y) * d.Y / white.Y;
    const double z = root_slope(at.Z / white.Z) * d.Z / white.Z;
    return {116 * y, 500 * (x - y), 200 * (y - z)};
}

}  // namespace

StackColour::StackColour(const colour::Reflectance& ground, std::vector<Coat> bottom_up, StackView view)
    : ground_(ground), view_(view) {
    // What lies below the open coats and holds no flakes is part of the ground.
    std::size_t first = 0;
    while (first < bottom_up.size() && bottom_up[first].film && !has_flakes(bottom_up[first].mix)) {
        ground_ = over(bottom_up[first].mix, *bottom_up[first].film, ground_);
        ++first;
    }
    for (std::size_t i = first; i < bottom_up.size(); ++i) {
        Laid laid{std::move(bottom_up[i]), {}};
        if (laid.coat.film) {
            for (std::size_t band = 0; band < kBandCount; ++band)
                laid.layers[band] =
                    layer(laid.coat.mix.K[band], laid.coat.mix.S[band], laid.coat.film->value);
        } else {
            ++open_;
        }
        coats_.push_back(std::move(laid));
    }
    while (lowest_flakes_ < coats_.size() && !has_flakes(coats_[lowest_flakes_].coat.mix)) ++lowest_flakes_;
    const GlintScene scene = aspecular_scene(view_.aspecular);
    for (std::size_t c = lowest_flakes_; c < coats_.size(); ++c) {
        const paint::MixedPaint& mix = coats_[c].coat.mix;
        glint_coats_.push_back(glint_coat(glint_paint(mix.K, mix.S, mix.flakes), scene));
    }
}

Layer StackColour::layer_of(const Laid& laid, std::size_t band, double film_um) const noexcept {
    return laid.coat.film ? laid.layers[band] : layer(laid.coat.mix.K[band], laid.coat.mix.S[band], film_um);
}

Lab StackColour::lab(std::span<const double> films_um) const {
    FW_EXPECTS(films_um.size() == open_);
    return glint_coats_.empty() ? plain(films_um, {}) : with_flakes(films_um);
}

Lab StackColour::lab(std::span<const double> films_um, std::span<Lab> slopes) const {
    FW_EXPECTS(films_um.size() == open_ && slopes.size() == open_);
    if (glint_coats_.empty()) return plain(films_um, slopes);
    const Lab here = with_flakes(films_um);
    std::vector<double> more(films_um.begin(), films_um.end());
    for (std::size_t c = 0; c < open_; ++c) {
        more[c] += kFlakeStep_um;
        const Lab there = with_flakes(more);
        more[c] = films_um[c];
        slopes[c] = {(there.L - here.L) / kFlakeStep_um, (there.a - here.a) / kFlakeStep_um,
                     (there.b - here.b) / kFlakeStep_um};
    }
    return here;
}

Lab StackColour::plain(std::span<const double> films_um, std::span<Lab> slopes) const {
    XYZ xyz;
    std::vector<Slope> xyz_slopes(slopes.size());
    std::vector<double> inside_slopes(slopes.size());
    const Skin skin = view_.looker.skin();
    const colour::Weights& weights = view_.looker.weights();
    for (std::size_t band = 0; band < kBandCount; ++band) {
        double R = ground_[band];
        std::size_t next = 0;
        for (const Laid& laid : coats_) {
            const Layer film = layer_of(laid, band, laid.coat.film ? 0 : films_um[next]);
            const double passed = film.T / (1 - film.R0 * R);
            R = film::over(film, R);
            for (std::size_t c = 0; c < next && c < inside_slopes.size(); ++c)
                inside_slopes[c] *= passed * passed;
            if (laid.coat.film) continue;
            const double K = laid.coat.mix.K[band], S = laid.coat.mix.S[band];
            if (next < inside_slopes.size()) inside_slopes[next] = S - 2 * (K + S) * R + S * R * R;
            ++next;
        }
        const double seen = measured(skin, R, Specular::excluded) + view_.spread_shine * skin.k1;
        const double turned = 1 - skin.k2 * R;
        const double skin_slope = (1 - skin.k1) * (1 - skin.k2) / (turned * turned);
        const auto& w = weights.w[band];
        xyz = {xyz.X + w[0] * seen, xyz.Y + w[1] * seen, xyz.Z + w[2] * seen};
        for (std::size_t c = 0; c < inside_slopes.size(); ++c) {
            const double slope = skin_slope * inside_slopes[c];
            Slope& d = xyz_slopes[c];
            d = {d.X + w[0] * slope, d.Y + w[1] * slope, d.Z + w[2] * slope};
        }
    }
    for (std::size_t c = 0; c < slopes.size(); ++c) slopes[c] = lab_slope(xyz, weights.white, xyz_slopes[c]);
    return colour::to_lab(xyz, weights.white);
}

GlintSum StackColour::glint_sum(std::span<const double> films_um) const {
    GlintSum sum;
    std::size_t next = films_um.size();
    for (std::size_t c = coats_.size(); c-- > lowest_flakes_;) {
        const std::optional<Micrometres>& given = coats_[c].coat.film;
        sum.add(glint_coats_[c - lowest_flakes_], given ? *given : Micrometres{films_um[--next]});
    }
    return sum;
}

Lab StackColour::with_flakes(std::span<const double> films_um) const {
    const GlintSum sum = glint_sum(films_um);
    const Skin skin = view_.looker.skin();
    const colour::Weights& weights = view_.looker.weights();
    XYZ xyz;
    for (std::size_t band = 0; band < kBandCount; ++band) {
        double R = ground_[band];
        std::size_t next = 0;
        for (const Laid& laid : coats_) {
            R = film::over(layer_of(laid, band, laid.coat.film ? 0 : films_um[next]), R);
            if (!laid.coat.film) ++next;
        }
        const double seen = seen_with_glint(skin, sum, band, R) + view_.spread_shine * skin.k1;
        const auto& w = weights.w[band];
        xyz = {xyz.X + w[0] * seen, xyz.Y + w[1] * seen, xyz.Z + w[2] * seen};
    }
    return colour::to_lab(xyz, weights.white);
}

}  // namespace fadewright::film
