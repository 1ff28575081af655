#include "fadewright/film/flake_reflection.h"

#include "fadewright/base/contract.h"
#include "fadewright/film/flake.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>

namespace fadewright::film {
namespace {

using colour::kBandCount;
using paint::kFlakeTableSize;

// Flakes at random depths shadow each other on both ways, so no more is reflected once. The mean T can give
// more where crowded flakes reflect this lamp far better than other light.
constexpr double kMaxSingleScatter = 0.5;

// Below this the series is as accurate as exp(-y), whose quotient starts to lose digits.
constexpr double kSmallDepth = 1e-3;

// exp(-y), to rounding.
double transmittance(double y) noexcept {
    return y < kSmallDepth ? 1 - y * (1 - y / 2 * (1 - y / 3 * (1 - y / 4))) : std::exp(-y);
}

// Effective depth of X micrometres for an extinction of a per micrometre.
double effective_depth(double a, double X) noexcept {
    const double y = a * X;
    if (y < kSmallDepth) return X * (1 - y / 2 * (1 - y / 3 * (1 - y / 4)));
    return (1 - std::exp(-y)) / a;
}

double slope_variance(const paint::EffectPigment& flakes, const FlakeReflectionScene& scene) noexcept {
    const double slope = std::tan(flakes.tilt.value * kRadiansPerDegree);
    const double light = std::tan(scene.lamp_spread.value / scene.binder.value * kRadiansPerDegree) / 2;
    return slope * slope + light * light;
}

// Reflectance of the surface for light from inside, from its cosine alone.
double fresnel_from_inside(double cos_inside, double n) noexcept {
    if (cos_inside <= 0) return 1;
    const double sin2_air = n * n * (1 - cos_inside * cos_inside);
    if (sin2_air >= 1) return 1;
    const double cos_air = std::sqrt(1 - sin2_air);
    const double across = (n * cos_inside - cos_air) / (n * cos_inside + cos_air);
    const double along = (cos_inside - n * cos_air) / (cos_inside + n * cos_air);
    return (across * across + along * along) / 2;
}

// Equal steps of the normal distribution, in standard deviations.
constexpr int kHalfSteps = 16;
constexpr double kMaxDeviations = 4.5;
constexpr double kStep = kMaxDeviations / kHalfSteps;
constexpr int kFineParts = 4;  // parts of a step, each way, that needs them
double gaussian(double deviations) noexcept { return std::exp(-deviations * deviations / 2); }

// A ray and a flake whose slopes are p in the plane of the ray and q across it: the cosine between the ray
// and the flake's normal, that of the normal's tilt, and the projected area.
struct Encounter {
    double cos_incidence, cos_tilt, projected_area;
};
Encounter encounter(double cos_ray, double sin_ray, double p, double q) noexcept {
    const double upright = 1 / std::sqrt(1 + p * p + q * q);
    const double cosine = (cos_ray + sin_ray * p) * upright;
    return {cosine, upright, std::max(0.0, cosine / upright)};
}

// Shares over the rows of an optics table.
using Rows = std::array<double, kFlakeTableSize>;

void add_to_rows(Rows& rows, double cosine, double weight) noexcept {
    const double angle = std::acos(std::clamp(cosine, 0.0, 1.0)) / kRadiansPerDegree;
    const double position = angle / paint::kFlakeTableStep.value;
    const std::size_t row = std::min(static_cast<std::size_t>(position), kFlakeTableSize - 2);
    const double share = position - static_cast<double>(row);
    rows[row] += weight * (1 - share);
    rows[row + 1] += weight * share;
}

// Incidence of light on flakes of every tilt: all of it, and the part that the surface reflects back in once
// reflected.
struct MirrorWeights {
    Rows all{};
    Rows trapped{};
};

// One ray and flakes of every slope. The trapped share jumps where total reflection at the surface begins,
// so the step that contains this edge is subdivided.
class TiltIntegrator {
public:
    TiltIntegrator(double cos_ray, double slope, RelativeIndex binder) noexcept
        : cos_ray_(cos_ray),
          sin_ray_(std::sqrt(std::max(0.0, 1 - cos_ray * cos_ray))),
          slope_(slope),
          n_(binder.value),
          critical_cosine_(std::sqrt(std::max(0.0, 1 - 1 / (n_ * n_)))) {}

    // One step about these slopes, in standard deviations.
    void add(double along, double across) noexcept {
        const int parts = has_edge(along, across) ? kFineParts : 1;
        for (int j = 0; j < parts; ++j)
            for (int i = 0; i < parts; ++i)
                add_sample(along + sample_offset(i, parts), across + sample_offset(j, parts),
                           1.0 / (parts * parts));
    }

    [[nodiscard]] MirrorWeights shares() const noexcept {
        MirrorWeights shares = weights_;
        for (double& row : shares.all) row /= total_;
        for (double& row : shares.trapped) row /= total_;
        return shares;
    }

private:
    [[nodiscard]] Encounter encounter_at(double along, double across) const noexcept {
        return encounter(cos_ray_, sin_ray_, slope_ * along, slope_ * across);
    }
    [[nodiscard]] double cos_out(const Encounter& encounter_point) const noexcept {
        return 2 * encounter_point.cos_incidence * encounter_point.cos_tilt - cos_ray_;
    }
    [[nodiscard]] bool is_trapped(double along, double across) const noexcept {
        return cos_out(encounter_at(along, across)) < critical_cosine_;
    }
    [[nodiscard]] bool has_edge(double along, double across) const noexcept {
        constexpr double half = kStep / 2;
        const bool first = is_trapped(along - half, across - half);
        return is_trapped(along + half, across - half) != first ||
               is_trapped(along - half, across + half) != first ||
               is_trapped(along + half, across + half) != first;
    }
    static double sample_offset(int i, int parts) noexcept { return kStep * ((i + 0.5) / parts - 0.5); }

    void add_sample(double along, double across, double share) noexcept {
        const Encounter encounter_point = encounter_at(along, across);
        const double sample_weight =
            share * gaussian(along) * gaussian(across) * encounter_point.projected_area;
        add_to_rows(weights_.all, encounter_point.cos_incidence, sample_weight);
        add_to_rows(weights_.trapped, encounter_point.cos_incidence,
                    sample_weight * fresnel_from_inside(cos_out(encounter_point), n_));
        total_ += sample_weight;
    }

    double cos_ray_, sin_ray_, slope_, n_, critical_cosine_;
    MirrorWeights weights_;
    double total_ = 0;
};

MirrorWeights mirror_weights(double cos_ray, double slope2, RelativeIndex binder) noexcept {
    TiltIntegrator integrator(cos_ray, std::sqrt(slope2), binder);
    for (int j = 0; j < kHalfSteps; ++j)  // symmetric across
        for (int i = -kHalfSteps; i < kHalfSteps; ++i) integrator.add(kStep * (i + 0.5), kStep * (j + 0.5));
    return integrator.shares();
}

double mean(const std::array<colour::Reflectance, kFlakeTableSize>& table, const Rows& rows,
            std::size_t band) noexcept {
    double sum = 0;
    for (std::size_t row = 0; row < kFlakeTableSize; ++row)
        if (rows[row] > 0) sum += rows[row] * table[row][band];
    return sum;
}

// Incidence of diffuse light from air on flat flakes after refraction, where all its rays are steep.
Rows rows_from_air(RelativeIndex binder) noexcept {
    constexpr int kSteps = 48;
    Rows rows{};
    for (int i = 0; i < kSteps; ++i) {
        const double sin2_air = (i + 0.5) / kSteps;  // equal steps of diffuse flux
        add_to_rows(rows, std::sqrt(1 - sin2_air / (binder.value * binder.value)), 1.0 / kSteps);
    }
    return rows;
}

void add_lamp(FlakeReflectionLamp& lamp, const paint::EffectPigment& flakes,
              const FlakeReflectionScene& scene) noexcept {
    const MirrorWeights light =
        mirror_weights(scene.geometry.cos_light, slope_variance(flakes, scene), scene.binder);
    const double m = flakes.platelet_hits_per_um;
    for (std::size_t band = 0; band < kBandCount; ++band) {
        lamp.mirrored[band] += m * mean(flakes.optics->reflected, light.all, band);
        lamp.trapped[band] += m * mean(flakes.optics->reflected, light.trapped, band);
    }
}

void add_view(FlakeReflectionCoat& coat, const paint::EffectPigment& flakes,
              const FlakeReflectionScene& scene) noexcept {
    const FlakeGeometry& g = scene.geometry;
    const double m = flakes.platelet_hits_per_um;
    const Degrees incidence{std::acos(g.cos_incidence) / kRadiansPerDegree};
    const double factor = std::numbers::pi * g.transmission_in * g.transmission_out /
                          (scene.binder.value * scene.binder.value) *
                          normal_density(g.cos_tilt, slope_variance(flakes, scene)) /
                          (4 * std::max(g.cos_light, kMinCosine) * std::max(g.cos_view, kMinCosine));
    for (std::size_t band = 0; band < kBandCount; ++band)
        coat.reflectance_factor[band] += factor * m * reflected_at(*flakes.optics, band, incidence);
}

// Extinction of an oblique ray by absorption: K is twice that along the ray.
double path_factor(double cosine) noexcept { return 1 / (2 * std::max(cosine, kMinCosine)); }

}  // namespace

FlakeReflectionPaint flake_reflection_paint(const colour::Absorption& K, const colour::Scattering& S,
                                            std::span<const paint::EffectPigment> flakes,
                                            RelativeIndex binder) {
    FlakeReflectionPaint paint;
    const Rows from_air = rows_from_air(binder);
    for (const paint::EffectPigment& kind : flakes) {
        if (kind.platelet_hits_per_um <= 0) continue;
        FW_EXPECTS(kind.optics != nullptr);
        paint.kinds.push_back({kind, diffuse_means(*kind.optics)});
    }
    for (std::size_t band = 0; band < kBandCount; ++band) {
        double absorbed = 0;
        for (const auto& kind : paint.kinds) {
            const double m = kind.flakes.platelet_hits_per_um;
            paint.mirrored[band] += m * kind.diffuse.reflected[band];
            paint.flake_extinction[band] += m * (1 - mean(kind.flakes.optics->transmitted, from_air, band));
            absorbed += m * (1 - kind.diffuse.reflected[band] - kind.diffuse.transmitted[band]);
        }
        paint.extinction[band] = K[band] + S[band];
        // Flakes that K and S do not include would remove more light than there is.
        paint.mirrored[band] = std::min(paint.mirrored[band], S[band]);
        paint.absorption[band] = std::max(0.0, K[band] - absorbed);
        paint.scattering[band] = S[band] - paint.mirrored[band];
    }
    return paint;
}

FlakeReflectionScene flake_reflection_scene(const Direction& light, const Direction& view,
                                            RelativeIndex binder, Degrees lamp_spread) {
    FW_EXPECTS(binder.value >= 1);
    FW_EXPECTS(lamp_spread.value >= 0);
    return {
        light, view, binder, lamp_spread, flake_geometry(light, view, binder), diffuse_from_inside(binder)};
}

FlakeReflectionLamp flake_reflection_lamp(const FlakeReflectionPaint& paint,
                                          const FlakeReflectionScene& scene) {
    FlakeReflectionLamp lamp;
    for (std::size_t band = 0; band < kBandCount; ++band)
        lamp.extinction[band] = 2 * (paint.absorption[band] * path_factor(scene.geometry.cos_light) +
                                     paint.scattering[band] + paint.flake_extinction[band]);
    for (const auto& kind : paint.kinds) add_lamp(lamp, kind.flakes, scene);
    return lamp;
}

FlakeReflectionCoat flake_reflection_coat(const FlakeReflectionPaint& paint,
                                          const FlakeReflectionScene& scene,
                                          const FlakeReflectionLamp& lamp) {
    const double path_sum = path_factor(scene.geometry.cos_light) + path_factor(scene.geometry.cos_view);
    FlakeReflectionCoat coat;
    coat.has_flakes = !paint.kinds.empty();
    coat.lamp = lamp.mirrored;
    coat.trapped = lamp.trapped;
    coat.lamp_extinction = lamp.extinction;
    coat.diffuse = paint.mirrored;
    for (std::size_t band = 0; band < kBandCount; ++band) {
        coat.diffuse_extinction[band] = 2 * paint.extinction[band];
        coat.view_extinction[band] =
            paint.absorption[band] * path_sum + 2 * (paint.scattering[band] + paint.flake_extinction[band]);
    }
    for (const auto& kind : paint.kinds) add_view(coat, kind.flakes, scene);
    return coat;
}

FlakeReflectionCoat flake_reflection_coat(const FlakeReflectionPaint& paint,
                                          const FlakeReflectionScene& scene) {
    return flake_reflection_coat(paint, scene, flake_reflection_lamp(paint, scene));
}

void FlakeReflection::add(const FlakeReflectionCoat& coat, Micrometres film) noexcept {
    const double X = film.value;
    if (X <= 0) return;
    if (coat.has_flakes) {
        has_flakes_ = true;
        add_flakes(coat, X);
    }
    for (std::size_t band = 0; band < kBandCount; ++band) {
        diffuse_depth_[band] += coat.diffuse_extinction[band] * X;
        lamp_depth_[band] += coat.lamp_extinction[band] * X;
        view_depth_[band] += coat.view_extinction[band] * X;
    }
}

void FlakeReflection::add_flakes(const FlakeReflectionCoat& coat, double film_um) noexcept {
    const double X = film_um;
    for (std::size_t band = 0; band < kBandCount; ++band) {
        const double diffuse =
            transmittance(diffuse_depth_[band]) * effective_depth(coat.diffuse_extinction[band], X);
        const double lamp = effective_depth(coat.lamp_extinction[band], X),
                     above = transmittance(lamp_depth_[band]);
        const double view_part =
            transmittance(view_depth_[band]) * effective_depth(coat.view_extinction[band], X);
        const double single = coat.lamp[band] * lamp;
        const double limit_factor = single > kMaxSingleScatter ? kMaxSingleScatter / single : 1;
        single_scatter_[band] += coat.diffuse[band] * diffuse;
        lamp_[band] += above * limit_factor * single;
        trapped_[band] += above * limit_factor * coat.trapped[band] * lamp;
        reflectance_factor_[band] += limit_factor * coat.reflectance_factor[band] * view_part;
    }
}

double FlakeReflection::emergent(std::size_t band, double R) const noexcept {
    const double g = single_scatter_[band];
    const double rest = (1 - lamp_[band]) * std::max(0.0, R - g) / (1 - g);
    return rest + trapped_[band] * R;
}

colour::Reflectance emergent_reflectance(const FlakeReflectionScene& scene, const FlakeReflection& sum,
                                         const colour::Reflectance& R) noexcept {
    const double surface = scene.geometry.transmission_in * scene.geometry.transmission_out /
                           (scene.binder.value * scene.binder.value);
    colour::Reflectance view_part;
    for (std::size_t band = 0; band < kBandCount; ++band)
        view_part[band] =
            surface * sum.emergent(band, R[band]) / (1 - scene.k2 * R[band]) + sum.reflectance_factor()[band];
    return view_part;
}

}  // namespace fadewright::film
