// Every paint of the library, fitted to a simulated card with noise, comes back within its stated confidence.
#include "fadewright/base/random.h"
#include "fadewright/calibration/ks_fit.h"
#include "fadewright/film/stack.h"
#include "preset_library.h"

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
        const double u = uniform01(seed_, 1, drawn_), v = uniform01(seed_, 2, drawn_);
        ++drawn_;
        return kNoise * std::sqrt(-2 * std::log(1 - u)) * std::cos(2 * std::numbers::pi * v);
    }

private:
    std::uint64_t seed_;
    std::uint64_t drawn_ = 0;
};

Reflectance read_noisy(const Reflectance& inside, film::SaundersonCorrection saunderson, Noise& noise) {
    Reflectance external = film::through_surface(inside, saunderson, film::Specular::excluded);
    for (double& v : external.values) v += noise();
    return external;
}

// One, two and four coats over black and white; the bare halves are read with noise as well.
std::vector<calibration::DrawdownReading> card_readings(const paint::Paint& paint, Noise& noise) {
    const film::SaundersonCorrection saunderson = film::surface_at_normal({});
    const paint::Part part{&paint, 1};
    const paint::MixedPaint mix = paint::mix_paints({&part, 1});
    std::vector<calibration::DrawdownReading> readings;
    for (const double bare : {0.01, 0.94}) {
        const Reflectance true_value = Reflectance::constant(bare);
        const Reflectance ground = film::below_surface(read_noisy(true_value, saunderson, noise), saunderson,
                                                       film::Specular::excluded);
        const double external_bare = film::external_reflectance(saunderson, bare, film::Specular::excluded),
                     step = 1e-6;
        const double internal_per_external =
            (film::internal_reflectance(saunderson, external_bare + step, film::Specular::excluded) - bare) /
            step;
        for (const double coats : {1.0, 2.0, 4.0}) {
            calibration::DrawdownReading r;
            r.film = coats * paint.coat_film;
            r.ground = ground;
            r.measured = read_noisy(film::reflectance_over(mix, r.film, true_value), saunderson, noise);
            r.noise = kNoise;
            r.ground_noise = kNoise * internal_per_external;
            readings.push_back(r);
        }
    }
    return readings;
}

struct IntervalCoverage {
    int total = 0, within = 0;
    void add(const calibration::Estimate& e, double true_value) {
        ++total;
        if (e.low <= true_value && true_value <= e.high) ++within;
    }
};

}  // namespace

TEST_CASE("every paint of the library comes back from its card within the stated confidence",
          "[plan][card]") {
    plan::Library library = test::preset_library();
    Diagnostics diagnostics;
    constexpr double kFourErrors = 16;  // rise of chi2
    IntervalCoverage K, S, K_four, S_four;
    int known = 0;
    for (const std::string& name : library.names(plan::LibraryKind::paints)) {
        const paint::Paint* paint = library.paint(name, diagnostics);
        REQUIRE(paint);
        if (paint->role == paint::Role::reducer) continue;
        Noise noise(test::seed_of(name));  // independent of the other paints
        const auto readings = card_readings(*paint, noise);
        const film::SaundersonCorrection saunderson = film::surface_at_normal({});
        const calibration::PaintFit fit = calibration::fit_ks(readings, saunderson, film::Specular::excluded);
        const calibration::PaintFit wide =
            calibration::fit_ks(readings, saunderson, film::Specular::excluded, kFourErrors);
        CAPTURE(name);
        CHECK(fit.noise_scale < 1.2);
        for (std::size_t band = 0; band < kBandCount; ++band) {
            K.add(fit.bands[band].K, paint->K[band]);
            S.add(fit.bands[band].S, paint->S[band]);
            K_four.add(wide.bands[band].K, paint->K[band]);
            S_four.add(wide.bands[band].S, paint->S[band]);
            known += !fit.bands[band].S_extrapolated;
        }
    }
    INFO("K " << K.within << " S " << S.within << " of " << K.total << ", known " << known);
    CHECK(K.total > 27 * 36);
    CHECK(known > 0.45 * K.total);  // otherwise the ranges would be too wide to mean anything
    CHECK(K.within >= 0.95 * K.total);
    CHECK(S.within >= 0.95 * S.total);
    CHECK(K_four.within == K_four.total);
    CHECK(S_four.within == S_four.total);
}
