// The glint of pictures against that of figures, which is the truth, over what coats and looks can be.
#include "fadewright/kernels/quick_glint.h"
#include "fadewright/film/angled.h"
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
namespace quick = fadewright::kernels::quick;

namespace {

constexpr std::size_t kBands = colour::kBandCount;
constexpr Skin kSkin{0.04, 0.6};

quick::GlintCoat quickly(const GlintCoat& coat) {
    return {
        coat.has_flakes,
        {coat.diffuse, coat.lost_diffuse, coat.lamp, coat.lost_lamp, coat.turned, coat.seen, coat.lost_seen}};
}

// Metal and pearl, crowded and sparse, with and without pigment between the flakes; and coats without any.
class Coats {
public:
    explicit Coats(const GlintScene& scene) {
        static const std::array kinds{lossless(0.7, 1, Degrees{9}), flakes_of(metal(), 1),
                                      flakes_of({}, 1, Degrees{3})};
        for (const double pigment : {0.0, 1e-5, 0.02, 0.8}) {
            add(std::nullopt, pigment, scene);
            for (paint::Flakes flakes : kinds)
                for (const double m : {1e-4, 0.02, 0.4, 3.0}) {
                    flakes.crossings_per_um = m;
                    add(flakes, pigment, scene);
                }
        }
    }
    [[nodiscard]] std::size_t count() const { return plain_.size(); }
    [[nodiscard]] const GlintCoat& plain(std::size_t i) const { return plain_[i]; }
    [[nodiscard]] const quick::GlintCoat& quick(std::size_t i) const { return quick_[i]; }

private:
    static FlakeBuild metal() {
        FlakeBuild build;
        build.kind = paint::FlakeKind::aluminium;
        return build;
    }

    void add(const std::optional<paint::Flakes>& flakes, double pigment, const GlintScene& scene) {
        colour::Absorption K;
        colour::Scattering S;
        std::vector<paint::Flakes> kinds;
        for (std::size_t band = 0; band < kBands; ++band) {
            K[band] = pigment * static_cast<double>(band) / kBands;
            S[band] = pigment / 2;
        }
        if (flakes) {
            const FlakeOptics optics = diffuse_optics(*flakes);
            for (std::size_t band = 0; band < kBands; ++band) {
                K[band] += optics.K[band];
                S[band] += optics.S[band];
            }
            kinds.push_back(*flakes);
        }
        plain_.push_back(glint_coat(glint_paint(K, S, kinds), scene));
        quick_.push_back(quickly(plain_.back()));
    }

    std::vector<GlintCoat> plain_;
    std::vector<quick::GlintCoat> quick_;
};

}  // namespace

TEST_CASE("quick glint is the plain one", "[film][quick]") {
    std::mt19937 random(11);
    std::uniform_real_distribution<double> unit(0, 1);
    double most = 0;
    int with_glint = 0;
    for (const double view : {15.0, 25.0, 75.0, 110.0}) {
        const Coats coats(aspecular(view));
        quick::GlintSum quick_sum(kBands);
        for (int run = 0; run < 2000; ++run) {
            GlintSum sum;
            quick_sum.clear();
            const int laid = 1 + static_cast<int>(4 * unit(random));
            for (int i = 0; i < laid; ++i) {
                const auto which =
                    std::min(coats.count() - 1,
                             static_cast<std::size_t>(unit(random) * static_cast<double>(coats.count())));
                const double t = unit(random), film = t < 0.1 ? 0 : t < 0.2 ? 1e-4 * t : 60 * t * t;
                sum.add(coats.plain(which), Micrometres{film});
                quick_sum.add(coats.quick(which), film);
            }
            with_glint += sum.has_glint();
            const quick::GlintLight light{unit(random), unit(random), 0.1 * unit(random),
                                          (1 - kSkin.k1) * (1 - kSkin.k2), kSkin.k2};
            std::vector<float> inside;
            for (std::size_t band = 0; band < kBands; ++band)
                inside.push_back(static_cast<float>(unit(random)));
            std::vector<float> seen = inside;
            quick_sum.see(light, seen);
            for (std::size_t band = 0; band < kBands; ++band) {
                const double R = static_cast<double>(inside[band]);
                const double expected = light.even * measured(kSkin, R, Specular::excluded) +
                                        light.beam * seen_with_glint(kSkin, sum, band, R) + light.shine;
                most = std::max(
                    most, std::abs(static_cast<double>(seen[band]) - expected) / std::max(1.0, expected));
            }
        }
    }
    CHECK(with_glint > 6000);
    CHECK(most < 3e-6);
}

TEST_CASE("a coat of none, and one without end, are still seen", "[film][quick]") {
    const Coats coats(aspecular(15));
    quick::GlintSum sum(kBands);
    const std::vector<float> inside(kBands, 0.5f);
    std::vector<float> bare = inside, buried = inside;
    const quick::GlintLight light{0, 1, 0, 1, 0};
    sum.see(light, bare);
    for (const float R : bare) CHECK(R == 0.5f);
    for (std::size_t i = 0; i < coats.count(); ++i) sum.add(coats.quick(i), 1e12);
    sum.see(light, buried);
    for (const float R : buried) CHECK(std::isfinite(R));
}
