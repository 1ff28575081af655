#include "fadewright/film/glint.h"

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

constexpr double kPerDegree = std::numbers::pi / 180;
// Flakes at random depths hide each other on both ways, so no more is mirrored once. A mean T can say
// otherwise where crowded flakes mirror this lamp far better than others.
constexpr double kMostOnce = 0.5;
constexpr double kSteepest = 0.05;  // no ray counts as more slanting than this cosine

// Series are as good as exp(-y) below this, where the quotient of it starts to lose digits.
constexpr double kSmallDepth = 1e-3;

// exp(-y), to rounding.
double what_is_left(double y) noexcept {
    return y < kSmallDepth ? 1 - y * (1 - y / 2 * (1 - y / 3 * (1 - y / 4))) : std::exp(-y);
}

// Depth that light fading by a per micrometre sees of X micrometres.
double depth_seen(double a, double X) noexcept {
    const double y = a * X;
    if (y < kSmallDepth) return X * (1 - y / 2 * (1 - y / 3 * (1 - y / 4)));
    return (1 - std::exp(-y)) / a;
}

double slope2_of(const paint::Flakes& flakes, const GlintScene& scene) noexcept {
    const double slope = std::tan(flakes.tilt.value * kPerDegree);
    const double light = std::tan(scene.soft.value / scene.binder.value * kPerDegree) / 2;
    return slope * slope + light * light;
}

// Part of the light from inside that the skin turns back, without a single angle.
double turned_back(double cos_inside, double n) noexcept {
    if (cos_inside <= 0) return 1;
    const double sin2_air = n * n * (1 - cos_inside * cos_inside);
    if (sin2_air >= 1) return 1;
    const double cos_air = std::sqrt(1 - sin2_air);
    const double across = (n * cos_inside - cos_air) / (n * cos_inside + cos_air);
    const double along = (cos_inside - n * cos_air) / (cos_inside + n * cos_air);
    return (across * across + along * along) / 2;
}

// Even steps under the bell, in deviations.
constexpr int kHalfSteps = 16;
constexpr double kReach = 4.5;
constexpr double kStep = kReach / kHalfSteps;
constexpr int kFine = 4;  // parts of a step, each way, that needs them
double bell(double deviations) noexcept { return std::exp(-deviations * deviations / 2); }

// A ray of light and a flake whose slopes are p in their plane and q across it: the cosine between the ray
// and the flake's normal, that of the normal's tilt, and the area shown to the ray.
struct Encounter {
    double cosine, upright, shown;
};
Encounter encounter(double cos_ray, double sin_ray, double p, double q) noexcept {
    const double upright = 1 / std::sqrt(1 + p * p + q * q);
    const double cosine = (cos_ray + sin_ray * p) * upright;
    return {cosine, upright, std::max(0.0, cosine / upright)};
}

// Shares over the rows of a mirror.
using Rows = std::array<double, kFlakeTableSize>;

void add_at(Rows& rows, double cosine, double weight) noexcept {
    const double angle = std::acos(std::clamp(cosine, 0.0, 1.0)) / kPerDegree;
    const double place = angle / paint::kFlakeTableStep.value;
    const std::size_t row = std::min(static_cast<std::size_t>(place), kFlakeTableSize - 2);
    const double share = place - static_cast<double>(row);
    rows[row] += weight * (1 - share);
    rows[row + 1] += weight * share;
}

// How light meets flakes of every tilt: all it meets, and the part that the skin turns back when it is
// mirrored.
struct Meeting {
    Rows met{};
    Rows turned{};
};

// One ray and flakes of every slope. What is mirrored turns sharply where total reflection in the skin begins,
// so that the step which holds that edge is cut finer.
class Meet {
public:
    Meet(double cos_ray, double slope, RelativeIndex binder) noexcept
        : cos_ray_(cos_ray),
          sin_ray_(std::sqrt(std::max(0.0, 1 - cos_ray * cos_ray))),
          slope_(slope),
          n_(binder.value),
          critical_(std::sqrt(std::max(0.0, 1 - 1 / (n_ * n_)))) {}

    // A step each way about these slopes, in deviations.
    void add(double along, double across) noexcept {
        const int parts = has_edge(along, across) ? kFine : 1;
        for (int j = 0; j < parts; ++j)
            for (int i = 0; i < parts; ++i)
                add_one(along + part_of_step(i, parts), across + part_of_step(j, parts),
                        1.0 / (parts * parts));
    }

    [[nodiscard]] Meeting shares() const noexcept {
        Meeting shares = meeting_;
        for (double& row : shares.met) row /= all_;
        for (double& row : shares.turned) row /= all_;
        return shares;
    }

private:
    [[nodiscard]] Encounter encounter_at(double along, double across) const noexcept {
        return encounter(cos_ray_, sin_ray_, slope_ * along, slope_ * across);
    }
    [[nodiscard]] double cos_out(const Encounter& one) const noexcept {
        return 2 * one.cosine * one.upright - cos_ray_;
    }
    [[nodiscard]] bool is_trapped(double along, double across) const noexcept {
        return cos_out(encounter_at(along, across)) < critical_;
    }
    [[nodiscard]] bool has_edge(double along, double across) const noexcept {
        constexpr double half = kStep / 2;
        const bool first = is_trapped(along - half, across - half);
        return is_trapped(along + half, across - half) != first ||
               is_trapped(along - half, across + half) != first ||
               is_trapped(along + half, across + half) != first;
    }
    static double part_of_step(int i, int parts) noexcept { return kStep * ((i + 0.5) / parts - 0.5); }

    void add_one(double along, double across, double share) noexcept {
        const Encounter one = encounter_at(along, across);
        const double shown = share * bell(along) * bell(across) * one.shown;
        add_at(meeting_.met, one.cosine, shown);
        add_at(meeting_.turned, one.cosine, shown * turned_back(cos_out(one), n_));
        all_ += shown;
    }

    double cos_ray_, sin_ray_, slope_, n_, critical_;
    Meeting meeting_;
    double all_ = 0;
};

Meeting meeting(double cos_ray, double slope2, RelativeIndex binder) noexcept {
    Meet meet(cos_ray, std::sqrt(slope2), binder);
    for (int j = 0; j < kHalfSteps; ++j)  // both sides across are alike
        for (int i = -kHalfSteps; i < kHalfSteps; ++i) meet.add(kStep * (i + 0.5), kStep * (j + 0.5));
    return meet.shares();
}

double mean(const std::array<colour::Reflectance, kFlakeTableSize>& table, const Rows& rows,
            std::size_t band) noexcept {
    double sum = 0;
    for (std::size_t row = 0; row < kFlakeTableSize; ++row)
        if (rows[row] > 0) sum += rows[row] * table[row][band];
    return sum;
}

// How diffuse light from the air meets flat flakes once it is in the binder, where all its rays are steep.
Rows rows_from_air(RelativeIndex binder) noexcept {
    constexpr int kSteps = 48;
    Rows rows{};
    for (int i = 0; i < kSteps; ++i) {
        const double sin2_air = (i + 0.5) / kSteps;  // even steps of what diffuse light brings
        add_at(rows, std::sqrt(1 - sin2_air / (binder.value * binder.value)), 1.0 / kSteps);
    }
    return rows;
}

void add_lamp(GlintLamp& lamp, const paint::Flakes& flakes, const GlintScene& scene) noexcept {
    const Meeting light = meeting(scene.geometry.cos_light, slope2_of(flakes, scene), scene.binder);
    const double m = flakes.crossings_per_um;
    for (std::size_t band = 0; band < kBandCount; ++band) {
        lamp.mirrored[band] += m * mean(flakes.mirror->reflected, light.met, band);
        lamp.turned[band] += m * mean(flakes.mirror->reflected, light.turned, band);
    }
}

void add_view(GlintCoat& coat, const paint::Flakes& flakes, const GlintScene& scene) noexcept {
    const FlakeGeometry& g = scene.geometry;
    const double m = flakes.crossings_per_um;
    const Degrees incidence{std::acos(g.cos_incidence) / kPerDegree};
    const double factor = std::numbers::pi * g.let_in * g.let_out /
                          (scene.binder.value * scene.binder.value) *
                          normal_density(g.cos_tilt, slope2_of(flakes, scene)) /
                          (4 * std::max(g.cos_light, kSteepest) * std::max(g.cos_view, kSteepest));
    for (std::size_t band = 0; band < kBandCount; ++band)
        coat.seen[band] += factor * m * reflected_at(*flakes.mirror, band, incidence);
}

// What one part of absorption takes from a slanting ray: K is twice that of a straight one.
double slant(double cosine) noexcept { return 1 / (2 * std::max(cosine, kSteepest)); }

}  // namespace

GlintPaint glint_paint(const colour::Absorption& K, const colour::Scattering& S,
                       std::span<const paint::Flakes> flakes, RelativeIndex binder) {
    GlintPaint paint;
    const Rows from_air = rows_from_air(binder);
    for (const paint::Flakes& kind : flakes) {
        if (kind.crossings_per_um <= 0) continue;
        FW_EXPECTS(kind.mirror != nullptr);
        paint.kinds.push_back({kind, diffuse_means(*kind.mirror)});
    }
    for (std::size_t band = 0; band < kBandCount; ++band) {
        double swallowed = 0;
        for (const auto& kind : paint.kinds) {
            const double m = kind.flakes.crossings_per_um;
            paint.bounce[band] += m * kind.diffuse.reflected[band];
            paint.stopped[band] += m * (1 - mean(kind.flakes.mirror->passed, from_air, band));
            swallowed += m * (1 - kind.diffuse.reflected[band] - kind.diffuse.passed[band]);
        }
        paint.lost[band] = K[band] + S[band];
        // Flakes whose part is not in K and S would take out more light than there is.
        paint.bounce[band] = std::min(paint.bounce[band], S[band]);
        paint.absorption[band] = std::max(0.0, K[band] - swallowed);
        paint.scattering[band] = S[band] - paint.bounce[band];
    }
    return paint;
}

GlintScene glint_scene(const Direction& light, const Direction& view, RelativeIndex binder, Degrees soft) {
    FW_EXPECTS(binder.value >= 1);
    FW_EXPECTS(soft.value >= 0);
    return {light, view, binder, soft, flake_geometry(light, view, binder), diffuse_from_inside(binder)};
}

GlintLamp glint_lamp(const GlintPaint& paint, const GlintScene& scene) {
    GlintLamp lamp;
    for (std::size_t band = 0; band < kBandCount; ++band)
        lamp.lost[band] = 2 * (paint.absorption[band] * slant(scene.geometry.cos_light) +
                               paint.scattering[band] + paint.stopped[band]);
    for (const auto& kind : paint.kinds) add_lamp(lamp, kind.flakes, scene);
    return lamp;
}

GlintCoat glint_coat(const GlintPaint& paint, const GlintScene& scene, const GlintLamp& lamp) {
    const double both_ways = slant(scene.geometry.cos_light) + slant(scene.geometry.cos_view);
    GlintCoat coat;
    coat.has_flakes = !paint.kinds.empty();
    coat.lamp = lamp.mirrored;
    coat.turned = lamp.turned;
    coat.lost_lamp = lamp.lost;
    coat.diffuse = paint.bounce;
    for (std::size_t band = 0; band < kBandCount; ++band) {
        coat.lost_diffuse[band] = 2 * paint.lost[band];
        coat.lost_seen[band] =
            paint.absorption[band] * both_ways + 2 * (paint.scattering[band] + paint.stopped[band]);
    }
    for (const auto& kind : paint.kinds) add_view(coat, kind.flakes, scene);
    return coat;
}

GlintCoat glint_coat(const GlintPaint& paint, const GlintScene& scene) {
    return glint_coat(paint, scene, glint_lamp(paint, scene));
}

void GlintSum::add(const GlintCoat& coat, Micrometres film) noexcept {
    const double X = film.value;
    if (X <= 0) return;
    if (coat.has_flakes) {
        has_glint_ = true;
        add_flakes(coat, X);
    }
    for (std::size_t band = 0; band < kBandCount; ++band) {
        faded_diffuse_[band] += coat.lost_diffuse[band] * X;
        faded_lamp_[band] += coat.lost_lamp[band] * X;
        faded_seen_[band] += coat.lost_seen[band] * X;
    }
}

void GlintSum::add_flakes(const GlintCoat& coat, double film_um) noexcept {
    const double X = film_um;
    for (std::size_t band = 0; band < kBandCount; ++band) {
        const double diffuse = what_is_left(faded_diffuse_[band]) * depth_seen(coat.lost_diffuse[band], X);
        const double lamp = depth_seen(coat.lost_lamp[band], X), above = what_is_left(faded_lamp_[band]);
        const double seen = what_is_left(faded_seen_[band]) * depth_seen(coat.lost_seen[band], X);
        const double once = coat.lamp[band] * lamp;
        const double held = once > kMostOnce ? kMostOnce / once : 1;
        removed_[band] += coat.diffuse[band] * diffuse;
        lamp_[band] += above * held * once;
        turned_[band] += above * held * coat.turned[band] * lamp;
        glint_[band] += held * coat.seen[band] * seen;
    }
}

double GlintSum::risen(std::size_t band, double R) const noexcept {
    const double g = removed_[band];
    const double rest = (1 - lamp_[band]) * std::max(0.0, R - g) / (1 - g);
    return rest + turned_[band] * R;
}

colour::Reflectance outside(const GlintScene& scene, const GlintSum& sum,
                            const colour::Reflectance& R) noexcept {
    const double skin =
        scene.geometry.let_in * scene.geometry.let_out / (scene.binder.value * scene.binder.value);
    colour::Reflectance seen;
    for (std::size_t band = 0; band < kBandCount; ++band)
        seen[band] = skin * sum.risen(band, R[band]) / (1 - scene.k2 * R[band]) + sum.glint()[band];
    return seen;
}

}  // namespace fadewright::film
