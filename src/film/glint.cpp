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

// Depth that light fading by a per micrometre sees of X micrometres, and what is left below. The series is as
// good as the quotient where the quotient starts to lose digits.
struct Depth {
    double seen;
    double left;
};
Depth depth(double a, double X) noexcept {
    const double y = a * X;
    const double left = std::exp(-y);
    if (y < 1e-3) return {X * (1 - y / 2 * (1 - y / 3 * (1 - y / 4))), left};
    return {(1 - left) / a, left};
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

// Even steps under the bell, for what turns sharply, as total reflection does: the upper half, both sides
// alike.
struct Step {
    double deviations, weight;
};
constexpr std::size_t kHalfSteps = 16;
constexpr double kReach = 3.8;
std::array<Step, kHalfSteps> half_bell() noexcept {
    std::array<Step, kHalfSteps> nodes;
    double all = 0;
    for (std::size_t i = 0; i < kHalfSteps; ++i) {
        const double at = kReach * (static_cast<double>(i) + 0.5) / kHalfSteps;
        nodes[i] = {at, std::exp(-at * at / 2)};
        all += nodes[i].weight;
    }
    for (Step& node : nodes) node.weight /= all;
    return nodes;
}

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

Meeting meeting(double cos_ray, double slope2, RelativeIndex binder) noexcept {
    static const auto bell = half_bell();
    const double slope = std::sqrt(slope2);
    const double sin_ray = std::sqrt(std::max(0.0, 1 - cos_ray * cos_ray));
    Meeting meeting;
    double all = 0;
    for (const Step& across : bell)
        for (const Step& along : bell)
            for (const double side : {-1.0, 1.0}) {
                const Encounter one =
                    encounter(cos_ray, sin_ray, side * slope * along.deviations, slope * across.deviations);
                const double weight = across.weight * along.weight * one.shown;
                const double turned = turned_back(2 * one.cosine * one.upright - cos_ray, binder.value);
                add_at(meeting.met, one.cosine, weight);
                add_at(meeting.turned, one.cosine, weight * turned);
                all += weight;
            }
    for (double& row : meeting.met) row /= all;
    for (double& row : meeting.turned) row /= all;
    return meeting;
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
    has_glint_ = has_glint_ || coat.has_flakes;
    for (std::size_t band = 0; band < kBandCount; ++band) {
        const Depth diffuse = depth(coat.lost_diffuse[band], X);
        const Depth lamp = depth(coat.lost_lamp[band], X);
        const Depth seen = depth(coat.lost_seen[band], X);
        const double once = coat.lamp[band] * lamp.seen;
        const double held = once > kMostOnce ? kMostOnce / once : 1;
        removed_[band] += above_diffuse_[band] * coat.diffuse[band] * diffuse.seen;
        lamp_[band] += above_lamp_[band] * held * once;
        turned_[band] += above_lamp_[band] * held * coat.turned[band] * lamp.seen;
        glint_[band] += above_seen_[band] * held * coat.seen[band] * seen.seen;
        above_diffuse_[band] *= diffuse.left;
        above_lamp_[band] *= lamp.left;
        above_seen_[band] *= seen.left;
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
