// Every paint of the shelf, read from a simulated card with noise, comes back within its stated confidence.
#include "fadewright/base/random.h"
#include "fadewright/film/fit.h"
#include "fadewright/film/stack.h"
#include "shelf.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

using namespace fadewright;
using colour::kBandCount;
using colour::Reflectance;

namespace {

constexpr double kNoise = 0.001;  // of one reading, as reflectance

class Noise {
public:
    explicit Noise(std::uint64_t seed) : seed_(seed) {}
    double operator()() {
        const double u = random_unit(seed_, 1, drawn_), v = random_unit(seed_, 2, drawn_);
        ++drawn_;
        return kNoise * std::sqrt(-2 * std::log(1 - u)) * std::cos(2 * std::numbers::pi * v);
    }

private:
    std::uint64_t seed_;
    std::uint64_t drawn_ = 0;
};

Reflectance read(const Reflectance& inside, film::Skin skin, Noise& noise) {
    Reflectance seen = film::seen(inside, skin, film::Specular::excluded);
    for (double& v : seen.at) v += noise();
    return seen;
}

// One, two and four coats over black and white; the bare halves are read with noise as well.
std::vector<film::Reading> card_of(const paint::Paint& paint, Noise& noise) {
    const film::Skin skin = film::skin_at_normal({});
    const paint::Part part{&paint, 1};
    const paint::MixedPaint mix = paint::mixed({&part, 1});
    std::vector<film::Reading> readings;
    for (const double bare : {0.01, 0.94}) {
        const Reflectance truth = Reflectance::constant(bare);
        const Reflectance ground = film::inside(read(truth, skin, noise), skin, film::Specular::excluded);
        const double seen_bare = film::measured(skin, bare, film::Specular::excluded), step = 1e-6;
        const double inside_per_seen =
            (film::internal(skin, seen_bare + step, film::Specular::excluded) - bare) / step;
        for (const double coats : {1.0, 2.0, 4.0}) {
            film::Reading r;
            r.film = coats * paint.coat_film;
            r.ground = ground;
            r.seen = read(film::over(mix, r.film, truth), skin, noise);
            r.noise = kNoise;
            r.ground_noise = kNoise * inside_per_seen;
            readings.push_back(r);
        }
    }
    return readings;
}

struct Covered {
    int all = 0, within = 0;
    void add(const film::Estimate& e, double truth) {
        ++all;
        if (e.low <= truth && truth <= e.high) ++within;
    }
};

}  // namespace

TEST_CASE("every paint of the shelf comes back from its card within the stated confidence", "[plan][card]") {
    plan::Shelf shelf = test::preset_shelf();
    Diagnostics diagnostics;
    constexpr double kFourErrors = 16;  // rise of chi2
    Covered K, S, K_four, S_four;
    int known = 0;
    for (const std::string& name : shelf.names(plan::ShelfKind::paints)) {
        const paint::Paint* paint = shelf.paint(name, diagnostics);
        REQUIRE(paint);
        if (paint->role == paint::Role::reducer) continue;
        Noise noise(test::seed_of(name));  // its own, whoever else is on the shelf
        const auto readings = card_of(*paint, noise);
        const film::Skin skin = film::skin_at_normal({});
        const film::PaintFit fit = film::fitted(readings, skin, film::Specular::excluded);
        const film::PaintFit wide = film::fitted(readings, skin, film::Specular::excluded, kFourErrors);
        CAPTURE(name);
        CHECK(fit.scale < 1.2);
        for (std::size_t band = 0; band < kBandCount; ++band) {
            K.add(fit.bands[band].K, paint->K[band]);
            S.add(fit.bands[band].S, paint->S[band]);
            K_four.add(wide.bands[band].K, paint->K[band]);
            S_four.add(wide.bands[band].S, paint->S[band]);
            known += !fit.bands[band].carried;
        }
    }
    INFO("K " << K.within << " S " << S.within << " of " << K.all << ", known " << known);
    CHECK(K.all > 27 * 36);
    CHECK(known > 0.45 * K.all);  // or the ranges would be wide because they say nothing
    CHECK(K.within >= 0.95 * K.all);
    CHECK(S.within >= 0.95 * S.all);
    CHECK(K_four.within == K_four.all);
    CHECK(S_four.within == S_four.all);
}
