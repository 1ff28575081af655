#include "fadewright/film/stack_colour.h"

#include "fadewright/base/contract.h"
#include "fadewright/film/multi_angle.h"

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

// Derivative of the cube root of Lab, linear near black. Source: [iso11664-4].
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
    // Coats below the free coats that hold no flakes are part of the ground.
    std::size_t first = 0;
    while (first < bottom_up.size() && bottom_up[first].film && !has_flakes(bottom_up[first].mix)) {
        ground_ = reflectance_over(bottom_up[first].mix, *bottom_up[first].film, ground_);
        ++first;
    }
    for (std::size_t i = first; i < bottom_up.size(); ++i) {
        PreparedCoat prepared{std::move(bottom_up[i]), {}};
        if (prepared.coat.film) {
            for (std::size_t band = 0; band < kBandCount; ++band)
                prepared.layers[band] =
                    layer(prepared.coat.mix.K[band], prepared.coat.mix.S[band], prepared.coat.film->value);
        } else {
            ++free_coats_;
        }
        coats_.push_back(std::move(prepared));
    }
    while (first_flake_coat_ < coats_.size() && !has_flakes(coats_[first_flake_coat_].coat.mix))
        ++first_flake_coat_;
    const FlakeReflectionScene scene = aspecular_scene(view_.aspecular);
    for (std::size_t c = first_flake_coat_; c < coats_.size(); ++c) {
        const paint::MixedPaint& mix = coats_[c].coat.mix;
        flake_coats_.push_back(
            flake_reflection_coat(flake_reflection_paint(mix.K, mix.S, mix.flakes), scene));
    }
}

Layer StackColour::layer_of(const PreparedCoat& prepared, std::size_t band, double film_um) const noexcept {
    return prepared.coat.film ? prepared.layers[band]
                              : layer(prepared.coat.mix.K[band], prepared.coat.mix.S[band], film_um);
}

Lab StackColour::lab(std::span<const double> films_um) const {
    FW_EXPECTS(films_um.size() == free_coats_);
    return flake_coats_.empty() ? lab_without_flakes(films_um, {}) : lab_with_flakes(films_um);
}

Lab StackColour::lab(std::span<const double> films_um, std::span<Lab> slopes) const {
    FW_EXPECTS(films_um.size() == free_coats_ && slopes.size() == free_coats_);
    if (flake_coats_.empty()) return lab_without_flakes(films_um, slopes);
    const Lab base_lab = lab_with_flakes(films_um);
    std::vector<double> stepped_films(films_um.begin(), films_um.end());
    for (std::size_t c = 0; c < free_coats_; ++c) {
        stepped_films[c] += kFlakeStep_um;
        const Lab stepped_lab = lab_with_flakes(stepped_films);
        stepped_films[c] = films_um[c];
        slopes[c] = {(stepped_lab.L - base_lab.L) / kFlakeStep_um,
                     (stepped_lab.a - base_lab.a) / kFlakeStep_um,
                     (stepped_lab.b - base_lab.b) / kFlakeStep_um};
    }
    return base_lab;
}

Lab StackColour::lab_without_flakes(std::span<const double> films_um, std::span<Lab> slopes) const {
    XYZ xyz;
    std::vector<Slope> xyz_slopes(slopes.size());
    std::vector<double> inside_slopes(slopes.size());
    const SaundersonCorrection surface = view_.colorimeter.surface();
    const colour::TristimulusWeights& weights = view_.colorimeter.weights();
    for (std::size_t band = 0; band < kBandCount; ++band) {
        double R = ground_[band];
        std::size_t next = 0;
        for (const PreparedCoat& prepared : coats_) {
            const Layer film = layer_of(prepared, band, prepared.coat.film ? 0 : films_um[next]);
            const double transmitted = film.T / (1 - film.R0 * R);
            R = film::reflectance_over(film, R);
            for (std::size_t c = 0; c < next && c < inside_slopes.size(); ++c)
                inside_slopes[c] *= transmitted * transmitted;
            if (prepared.coat.film) continue;
            const double K = prepared.coat.mix.K[band], S = prepared.coat.mix.S[band];
            if (next < inside_slopes.size()) inside_slopes[next] = S - 2 * (K + S) * R + S * R * R;
            ++next;
        }
        const double measured =
            external_reflectance(surface, R, Specular::excluded) + view_.spread_specular * surface.k1;
        const double surface_denominator = 1 - surface.k2 * R;
        const double surface_slope =
            (1 - surface.k1) * (1 - surface.k2) / (surface_denominator * surface_denominator);
        const auto& w = weights.w[band];
        xyz = {xyz.X + w[0] * measured, xyz.Y + w[1] * measured, xyz.Z + w[2] * measured};
        for (std::size_t c = 0; c < inside_slopes.size(); ++c) {
            const double slope = surface_slope * inside_slopes[c];
            Slope& d = xyz_slopes[c];
            d = {d.X + w[0] * slope, d.Y + w[1] * slope, d.Z + w[2] * slope};
        }
    }
    for (std::size_t c = 0; c < slopes.size(); ++c) slopes[c] = lab_slope(xyz, weights.white, xyz_slopes[c]);
    return colour::to_lab(xyz, weights.white);
}

FlakeReflection StackColour::flake_reflection(std::span<const double> films_um) const {
    FlakeReflection sum;
    std::size_t next = films_um.size();
    for (std::size_t c = coats_.size(); c-- > first_flake_coat_;) {
        const std::optional<Micrometres>& fixed_film = coats_[c].coat.film;
        sum.add(flake_coats_[c - first_flake_coat_],
                fixed_film ? *fixed_film : Micrometres{films_um[--next]});
    }
    return sum;
}

Lab StackColour::lab_with_flakes(std::span<const double> films_um) const {
    const FlakeReflection sum = flake_reflection(films_um);
    const SaundersonCorrection surface = view_.colorimeter.surface();
    const colour::TristimulusWeights& weights = view_.colorimeter.weights();
    XYZ xyz;
    for (std::size_t band = 0; band < kBandCount; ++band) {
        double R = ground_[band];
        std::size_t next = 0;
        for (const PreparedCoat& prepared : coats_) {
            R = film::reflectance_over(layer_of(prepared, band, prepared.coat.film ? 0 : films_um[next]), R);
            if (!prepared.coat.film) ++next;
        }
        const double measured =
            external_reflectance_with_flakes(surface, sum, band, R) + view_.spread_specular * surface.k1;
        const auto& w = weights.w[band];
        xyz = {xyz.X + w[0] * measured, xyz.Y + w[1] * measured, xyz.Z + w[2] * measured};
    }
    return colour::to_lab(xyz, weights.white);
}

}  // namespace fadewright::film
