// Fast flake reflection of the renderer against the reference implementation, over many coats and views.
#include "fadewright/kernels/flake_reflection_fast.h"
#include "fadewright/film/multi_angle.h"
#include "some_flakes.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <random>

using namespace fadewright;
using namespace fadewright::film;
using namespace fadewright::film::test;
namespace fast = fadewright::kernels::fast;

namespace {

constexpr std::size_t kBands = colour::kBandCount;
constexpr SaundersonCorrection kSurface{0.04, 0.6};

fast::FlakeReflectionCoat fast_coat(const FlakeReflectionCoat& coat) {
    return {coat.has_flakes,
            {coat.diffuse, coat.diffuse_extinction, coat.lamp, coat.lamp_extinction, coat.trapped,
             coat.reflectance_factor, coat.view_extinction}};
}

// Metal and pearl, crowded and sparse, with and without pigment between the flakes; and coats without any.
class Coats {
public:
    explicit Coats(const FlakeReflectionScene& scene) {
        static const std::array kinds{lossless(0.7, 1, Degrees{9}), flakes_of(metal(), 1),
                                      flakes_of({}, 1, Degrees{3})};
        for (const double pigment : {0.0, 1e-5, 0.02, 0.8}) {
            add(std::nullopt, pigment, scene);
            for (paint::EffectPigment flakes : kinds)
                for (const double m : {1e-4, 0.02, 0.4, 3.0}) {
                    flakes.platelet_hits_per_um = m;
                    add(flakes, pigment, scene);
                }
        }
    }
    [[nodiscard]] std::size_t count() const { return plain_.size(); }
    [[nodiscard]] const FlakeReflectionCoat& plain(std::size_t i) const { return plain_[i]; }
    [[nodiscard]] const fast::FlakeReflectionCoat& fast_at(std::size_t i) const { return fast_coats_[i]; }

private:
    static FlakeStructure metal() {
        FlakeStructure structure;
        structure.kind = paint::FlakeKind::aluminium;
        return structure;
    }

    void add(const std::optional<paint::EffectPigment>& flakes, double pigment,
             const FlakeReflectionScene& scene) {
        colour::Absorption K;
        colour::Scattering S;
        std::vector<paint::EffectPigment> kinds;
        for (std::size_t band = 0; band < kBands; ++band) {
            K[band] = pigment * static_cast<double>(band) / kBands;
            S[band] = pigment / 2;
        }
        if (flakes) {
            const FlakeCoefficients optics = diffuse_coefficients(*flakes);
            for (std::size_t band = 0; band < kBands; ++band) {
                K[band] += optics.K[band];
                S[band] += optics.S[band];
            }
            kinds.push_back(*flakes);
        }
        plain_.push_back(flake_reflection_coat(flake_reflection_paint(K, S, kinds), scene));
        fast_coats_.push_back(fast_coat(plain_.back()));
    }

    std::vector<FlakeReflectionCoat> plain_;
    std::vector<fast::FlakeReflectionCoat> fast_coats_;
};

}  // namespace

TEST_CASE("fast flake reflection equals the reference", "[film][fast]") {
    std::mt19937 random(11);
    std::uniform_real_distribution<double> unit(0, 1);
    double max_error = 0;
    int with_flakes = 0;
    for (const double view : {15.0, 25.0, 75.0, 110.0}) {
        const Coats coats(aspecular_scene_at(view));
        fast::FlakeReflection fast_sum(kBands);
        for (int run = 0; run < 2000; ++run) {
            FlakeReflection sum;
            fast_sum.clear();
            const int coat_count = 1 + static_cast<int>(4 * unit(random));
            for (int i = 0; i < coat_count; ++i) {
                const auto coat_index =
                    std::min(coats.count() - 1,
                             static_cast<std::size_t>(unit(random) * static_cast<double>(coats.count())));
                const double t = unit(random), film = t < 0.1 ? 0 : t < 0.2 ? 1e-4 * t : 60 * t * t;
                sum.add(coats.plain(coat_index), Micrometres{film});
                fast_sum.add(coats.fast_at(coat_index), film);
            }
            with_flakes += sum.has_flakes();
            const fast::FlakeReflectionLight light{unit(random), unit(random), 0.1 * unit(random),
                                                   (1 - kSurface.k1) * (1 - kSurface.k2), kSurface.k2};
            std::vector<float> inside;
            for (std::size_t band = 0; band < kBands; ++band)
                inside.push_back(static_cast<float>(unit(random)));
            std::vector<float> fast_result = inside;
            fast_sum.apply(light, fast_result);
            for (std::size_t band = 0; band < kBands; ++band) {
                const double R = static_cast<double>(inside[band]);
                const double expected =
                    light.diffuse * external_reflectance(kSurface, R, Specular::excluded) +
                    light.beam * external_reflectance_with_flakes(kSurface, sum, band, R) + light.gloss;
                max_error = std::max(max_error, std::abs(static_cast<double>(fast_result[band]) - expected) /
                                                    std::max(1.0, expected));
            }
        }
    }
    CHECK(with_flakes > 6000);
    CHECK(max_error < 3e-6);
}

TEST_CASE("coats of no film and of infinite film have a colour", "[film][fast]") {
    const Coats coats(aspecular_scene_at(15));
    fast::FlakeReflection sum(kBands);
    const std::vector<float> inside(kBands, 0.5f);
    std::vector<float> bare = inside, buried = inside;
    const fast::FlakeReflectionLight light{0, 1, 0, 1, 0};
    sum.apply(light, bare);
    for (const float R : bare) CHECK(R == 0.5f);
    for (std::size_t i = 0; i < coats.count(); ++i) sum.add(coats.fast_at(i), 1e12);
    sum.apply(light, buried);
    for (const float R : buried) CHECK(std::isfinite(R));
}
