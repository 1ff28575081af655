// Laws that hold for every paint of the library at every film, whatever its data.
#include "all_paints.h"
#include "fadewright/film/layer.h"
#include "fadewright/film/stack.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

using namespace fadewright;
using colour::kBandCount;
using colour::Reflectance;
using paint::MixedPaint;
using test::all_paints;
using test::unmixed;

namespace {

constexpr std::array kFilms_um{0.01, 0.3, 1.0, 5.0, 8.0, 23.0, 60.0, 400.0};
constexpr std::array kGrounds{0.0, 0.01, 0.2, 0.5, 0.94, 1.0};

double max_difference(const Reflectance& a, const Reflectance& b) {
    double highest = 0;
    for (std::size_t band = 0; band < kBandCount; ++band)
        highest = std::max(highest, std::abs(a[band] - b[band]));
    return highest;
}

double max_difference(const MixedPaint& a, const MixedPaint& b) {
    double highest = std::abs(a.solids.value - b.solids.value);
    for (std::size_t band = 0; band < kBandCount; ++band) {
        highest = std::max(highest, std::abs(a.K[band] - b.K[band]));
        highest = std::max(highest, std::abs(a.S[band] - b.S[band]));
    }
    return highest;
}

}  // namespace

TEST_CASE("the library has paints to test the laws with", "[properties]") {
    CHECK(all_paints().size() >= 30);
    for (const paint::Paint& paint : all_paints()) {
        CAPTURE(paint.id);
        for (std::size_t band = 0; band < kBandCount; ++band) {
            REQUIRE(paint.K[band] >= 0);
            REQUIRE(paint.S[band] >= 0);
            REQUIRE(std::isfinite(paint.K[band] + paint.S[band]));
        }
    }
}

TEST_CASE("no film reflects more than it receives; reflectance and transmittance add up to at most one",
          "[properties]") {
    for (const paint::Paint& paint : all_paints())
        for (const double film_um : kFilms_um)
            for (std::size_t band = 0; band < kBandCount; ++band) {
                const film::Layer layer = film::layer(paint.K[band], paint.S[band], film_um);
                CAPTURE(paint.id, film_um, band);
                REQUIRE(layer.R0 >= 0);
                REQUIRE(layer.T >= 0);
                REQUIRE(layer.R0 + layer.T <= 1 + 1e-15);  // two roundings
                for (const double ground : kGrounds) {
                    const double R = film::reflectance_over(layer, ground);
                    REQUIRE(R >= 0);
                    REQUIRE(R <= 1);
                    REQUIRE(R >= layer.R0);
                }
            }
}

TEST_CASE("a brighter ground never looks darker through any film", "[properties]") {
    for (const paint::Paint& paint : all_paints())
        for (const double film_um : kFilms_um)
            for (std::size_t band = 0; band < kBandCount; ++band) {
                const film::Layer layer = film::layer(paint.K[band], paint.S[band], film_um);
                CAPTURE(paint.id, film_um, band);
                for (std::size_t g = 1; g < kGrounds.size(); ++g)
                    REQUIRE(film::reflectance_over(layer, kGrounds[g]) >=
                            film::reflectance_over(layer, kGrounds[g - 1]));
            }
}

TEST_CASE("a coat sprayed in two or five parts is the same coat", "[properties]") {
    for (const paint::Paint& paint : all_paints()) {
        const MixedPaint mix = unmixed(paint);
        for (const double film_um : kFilms_um)
            for (const double ground_R : kGrounds) {
                const Reflectance ground = Reflectance::constant(ground_R);
                const Reflectance single_film = film::reflectance_over(mix, Micrometres{film_um}, ground);
                CAPTURE(paint.id, film_um, ground_R);
                const Reflectance uneven =
                    film::reflectance_over(mix, Micrometres{0.7 * film_um},
                                           film::reflectance_over(mix, Micrometres{0.3 * film_um}, ground));
                CHECK(max_difference(single_film, uneven) < 1e-12);
                Reflectance fifths = ground;
                for (int i = 0; i < 5; ++i)
                    fifths = film::reflectance_over(mix, Micrometres{film_um / 5}, fifths);
                CHECK(max_difference(single_film, fifths) < 1e-12);
            }
    }
}

TEST_CASE("a film at full hiding has the masstone", "[properties]") {
    for (const paint::Paint& paint : all_paints()) {
        const MixedPaint mix = unmixed(paint);
        const Reflectance masstone = film::masstone(mix);
        for (std::size_t band = 0; band < kBandCount; ++band) {
            const double K = mix.K[band], S = mix.S[band];
            const double depth = std::sqrt(K * (K + 2 * S));
            if (depth == 0) continue;  // perfectly clear, or perfectly white: never hides
            // Light through such a film and back is attenuated by e^-40.
            const film::Layer layer = film::layer(K, S, 20 / depth);
            CAPTURE(paint.id, band, K, S);
            for (const double ground : kGrounds)
                CHECK(std::abs(film::reflectance_over(layer, ground) - masstone[band]) < 1e-12);
        }
    }
}

TEST_CASE("zero film shows the ground", "[properties]") {
    for (const paint::Paint& paint : all_paints())
        for (const double ground_R : kGrounds) {
            CAPTURE(paint.id, ground_R);
            const Reflectance ground = Reflectance::constant(ground_R);
            CHECK(film::reflectance_over(unmixed(paint), Micrometres{0.0}, ground) == ground);
            CHECK(film::lay_dots(unmixed(paint), Micrometres{0.0}, Micrometres{2.0}, ground) == ground);
        }
}

TEST_CASE("dots change the ground less than the same paint as a film, and never beyond it", "[properties]") {
    for (const paint::Paint& paint : all_paints())
        for (const double film_um : {0.3, 2.0, 8.0})
            for (const double ground_R : kGrounds) {
                const Reflectance ground = Reflectance::constant(ground_R);
                const MixedPaint mix = unmixed(paint);
                const Reflectance even = film::reflectance_over(mix, Micrometres{film_um}, ground);
                const Reflectance dots = film::lay_dots(mix, Micrometres{film_um}, Micrometres{2.0}, ground);
                CAPTURE(paint.id, film_um, ground_R);
                for (std::size_t band = 0; band < kBandCount; ++band) {
                    const auto [low, high] = std::minmax({even[band], ground[band]});
                    REQUIRE(dots[band] >= low - 1e-12);
                    REQUIRE(dots[band] <= high + 1e-12);
                }
            }
}

TEST_CASE("a paint mixed with itself is that paint", "[properties]") {
    for (const paint::Paint& paint : all_paints()) {
        const std::array<paint::Part, 3> parts{paint::Part{&paint, 1}, paint::Part{&paint, 0.3},
                                               paint::Part{&paint, 7}};
        CAPTURE(paint.id);
        CHECK(max_difference(paint::mix_paints(parts), unmixed(paint)) < 1e-13);
    }
}

TEST_CASE("the order of the parts of a mix does not matter", "[properties]") {
    const auto& paints = all_paints();
    for (std::size_t i = 0; i < paints.size(); ++i) {
        const paint::Paint &a = paints[i], &b = paints[(i + 7) % paints.size()],
                           &c = paints[(i + 13) % paints.size()];
        const std::vector<paint::Part> first{{&a, 1}, {&b, 2.5}, {&c, 0.4}},
            second{{&c, 0.4}, {&a, 1}, {&b, 2.5}};
        CAPTURE(a.id, b.id, c.id);
        CHECK(max_difference(paint::mix_paints(first), paint::mix_paints(second)) < 1e-13);
    }
}

TEST_CASE("a mix is between its paints in every band", "[properties]") {
    // Without white, whose crowding decreases in a let-down.
    const auto& paints = all_paints();
    for (std::size_t i = 0; i < paints.size(); ++i) {
        const paint::Paint &a = paints[i], &b = paints[(i + 11) % paints.size()];
        if (a.role == paint::Role::white || b.role == paint::Role::white) continue;
        const std::vector<paint::Part> parts{{&a, 1}, {&b, 1}};
        const MixedPaint mix = paint::mix_paints(parts);
        CAPTURE(a.id, b.id);
        for (std::size_t band = 0; band < kBandCount; ++band) {
            REQUIRE(mix.K[band] >= std::min(a.K[band], b.K[band]) - 1e-15);
            REQUIRE(mix.K[band] <= std::max(a.K[band], b.K[band]) + 1e-15);
            REQUIRE(mix.S[band] >= std::min(a.S[band], b.S[band]) - 1e-15);
            REQUIRE(mix.S[band] <= std::max(a.S[band], b.S[band]) + 1e-15);
        }
    }
}
