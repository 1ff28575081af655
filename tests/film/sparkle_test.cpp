#include "fadewright/film/sparkle.h"

#include "fadewright/base/random.h"
#include "some_flakes.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <cstdint>
#include <numbers>
#include <vector>

using namespace fadewright;
using namespace fadewright::film;
using Catch::Matchers::WithinAbs;
using film::test::aspecular_scene_at;
using film::test::lossless;

namespace {

constexpr double pi = std::numbers::pi;

struct SparkleSimulation {
    double sparkling = 0;          // share of all flakes
    double brightness = 0;         // sum over sparkling flakes of area, cosine and attenuation, per flake
    double relative_variance = 0;  // of that sum over cells
    double error_of_variance = 0;
    double sparkling_count = 0;  // number of them
};

// Flakes one by one: does a ray from the viewer, reflected by the flake and refracted by the surface, meet
// the lamp?
SparkleSimulation simulate(const FlakeReflectionScene& scene, Degrees tilt, Degrees lamp, double faded,
                           double area_variation, int cells, int flakes_per_cell) {
    const double slope = std::tan(tilt.value * pi / 180), rim = std::cos(lamp.value * pi / 180);
    const double n = scene.binder.value;
    const double log_spread = std::sqrt(std::log1p(area_variation * area_variation));
    const Direction view = in_binder(scene.view, scene.binder);
    std::uint64_t index = 0;
    const auto unit = [&] { return (uniform01(21, 5, index++) + 1e-17); };
    SparkleSimulation found;
    std::vector<double> sums(static_cast<std::size_t>(cells), 0.0);
    for (double& sum : sums) {
        // A Poisson number of flakes, by exponential intervals.
        for (double at = -std::log(unit()); at < flakes_per_cell; at -= std::log(unit())) {
            const double p = slope * normal_quantile(unit()), q = slope * normal_quantile(unit());
            const double length = std::sqrt(1 + p * p + q * q);
            const Direction h{p / length, q / length, 1 / length};
            const double cosine = dot(view, h);
            const Direction out{n * (2 * cosine * h.x - view.x), n * (2 * cosine * h.y - view.y), 0};
            const double z2 = 1 - out.x * out.x - out.y * out.y;
            if (z2 <= 0) continue;
            if (dot({out.x, out.y, std::sqrt(z2)}, scene.light) < rim) continue;
            const double area = std::exp(log_spread * normal_quantile(unit()) - log_spread * log_spread / 2);
            // Area over the flat, as for slopes; projected to the viewer by its cosine.
            sum += area * cosine / h.z / view.z * std::exp(-faded * unit());
            ++found.sparkling_count;
        }
    }
    const double all = static_cast<double>(cells) * flakes_per_cell;
    double mean = 0, second = 0, fourth = 0;
    for (const double sum : sums) mean += sum / cells;
    for (const double sum : sums) {
        const double off = (sum / mean - 1) * (sum / mean - 1);
        second += off / cells;
        fourth += off * off / cells;
    }
    found.sparkling = found.sparkling_count / all;
    found.brightness = mean / flakes_per_cell;
    found.relative_variance = second;
    found.error_of_variance = std::sqrt((fourth - second * second) / cells);
    return found;
}

}  // namespace

TEST_CASE("number, brightness and variance of simulated flakes are as calculated", "[film]") {
    const Degrees tilt{8}, lamp{1.5};
    constexpr double loss = 0.12, film_um = 10, variation = 0.6;
    for (const double off_mirror : {15.0, 25.0}) {
        const FlakeReflectionScene scene = aspecular_scene_at(off_mirror);
        constexpr int cells = 4000, per_cell = 3000;
        const SparkleSimulation simulated =
            simulate(scene, tilt, lamp, loss * film_um, variation, cells, per_cell);
        const paint::EffectPigment flakes = lossless(0.4, 0.1, tilt);
        const Sparkle expected = sparkle(flakes, Micrometres{film_um}, scene, lamp, loss, variation);
        const double all = flakes_per_cm2(flakes, Micrometres{film_um});
        const double error = 1 / std::sqrt(simulated.sparkling_count);
        CAPTURE(off_mirror, simulated.sparkling_count, simulated.sparkling, simulated.relative_variance,
                simulated.error_of_variance);
        CHECK(error < 0.009);
        CHECK_THAT(simulated.sparkling / (expected.sparkling_per_cm2 / all), WithinAbs(1, 3 * error));

        // A cell holds per_cell flakes: its area in mm2 follows from their number per cm2.
        const double cell_mm2 = per_cell / all * 100;
        CHECK_THAT(simulated.relative_variance,
                   WithinAbs(expected.relative_power_mm2 / cell_mm2, 3 * simulated.error_of_variance));

        // Reflectance factor: pi times radiance over irradiance, for a lamp that fills its cone evenly.
        const FlakeGeometry& g = scene.geometry;
        const double cone = 2 * pi * (1 - std::cos(lamp.value * pi / 180));
        const double R = 0.4, m_X = 0.1 * film_um;
        const double factor = pi * g.transmission_in * g.transmission_out * R * m_X * simulated.brightness /
                              (cone * scene.light.z);
        FlakeReflectionCoat coat = flake_reflection_coat(
            flake_reflection_paint({}, colour::Scattering::constant(0.04), std::span(&flakes, 1)), scene);
        coat.view_extinction.fill(loss);
        FlakeReflection sum;
        sum.add(coat, Micrometres{film_um});
        const double spread = std::sqrt(simulated.relative_variance / cells);
        CHECK_THAT(factor / sum.reflectance_factor()[0], WithinAbs(1, 3 * spread));
    }
}

TEST_CASE("fewer and brighter flakes sparkle under a smaller lamp", "[film]") {
    const paint::EffectPigment flakes = lossless(0.4, 0.1);
    const Sparkle sun = sparkle(flakes, Micrometres{10}, aspecular_scene_at(15), kSun);
    const Sparkle bulb = sparkle(flakes, Micrometres{10}, aspecular_scene_at(15), kBulb);
    CHECK(sun.sparkling_per_cm2 < bulb.sparkling_per_cm2);
    CHECK(sun.relative_power_mm2 > bulb.relative_power_mm2);
    CHECK(bulb.sparkling_per_cm2 / sun.sparkling_per_cm2 == Approx(std::pow(1.5 / 0.265, 2)).epsilon(1e-3));
    CHECK(sparkle_power_mm2(sun, 2) == Approx(4 * sun.relative_power_mm2));
    // Coarser flakes of the same coverage sparkle more.
    paint::EffectPigment coarse = flakes;
    coarse.size = Micrometres{60};
    CHECK(sparkle(coarse, Micrometres{10}, aspecular_scene_at(15), kSun).relative_power_mm2 ==
          Approx(9 * sun.relative_power_mm2));
    CHECK(sparkle(flakes, Micrometres{0}, aspecular_scene_at(15), kSun).relative_power_mm2 == 0);
}

TEST_CASE("a coat with too few flakes is patchy", "[film]") {
    const paint::EffectPigment flakes = lossless(0.4, 0.1);
    const Patchiness thin = patchiness(flakes, Micrometres{2}), full = patchiness(flakes, Micrometres{20});
    CHECK(thin.gap_share == Approx(std::exp(-0.2)));
    CHECK(thin.index() > 1);
    CHECK(full.index() < 1);
    paint::EffectPigment chips = flakes;
    chips.size = Micrometres{600};
    CHECK(patchiness(chips, Micrometres{20}).index() > 1);
    CHECK(patchiness(flakes, Micrometres{0}).gap_share == 1);
}
