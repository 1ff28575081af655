#include "fadewright/calibration/film_from_colour.h"

#include "fadewright/colour/illuminant.h"
#include "some_paints.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

using namespace fadewright;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

const colour::Reflectance kCard = colour::Reflectance::constant(0.92);  // inside

// A blue that scatters a little: K high in the red, S everywhere.
paint::MixedPaint blue() {
    return test::unmixed(test::make_paint(test::in_thirds<colour::Absorption>({1.2, 0.25, 0.03}),
                                          test::in_thirds<colour::Scattering>({0.05, 0.06, 0.08})));
}

// Calculated without the scale's table: all bands, the surface, D65, linear sRGB.
colour::Rgb picture_colour(const paint::MixedPaint& mix, double film_um) {
    const auto weights = colour::tristimulus_weights(
        colour::standard_illuminant(colour::StandardIlluminant::D65), colour::Observer::two_degree);
    const auto R = film::through_surface(film::reflectance_over(mix, Micrometres{film_um}, kCard),
                                         film::surface_at_normal({}), film::Specular::excluded);
    return colour::to_linear_srgb(colour::to_xyz(R, weights), weights.white);
}

calibration::ThicknessScale scale_of(const paint::MixedPaint& mix) {
    return {mix, kCard, film::surface_at_normal({})};
}

}  // namespace

TEST_CASE("a film is read back from its colour", "[film][reading]") {
    const auto mix = blue();
    const calibration::ThicknessScale scale = scale_of(mix);
    int read = 0;
    for (double film_um = 0.01; film_um < scale.saturation_limit().value; film_um *= 1.3) {
        CAPTURE(film_um);
        const calibration::ThicknessReading back = scale.read(picture_colour(mix, film_um));
        CHECK_THAT(back.film_um, WithinRel(film_um, 0.002));
        CHECK(back.residual_codes < 0.1);
        CHECK_FALSE(back.saturated);
        ++read;
    }
    CHECK(read > 15);
    CHECK_THAT(scale.read(picture_colour(mix, 0)).film_um, WithinAbs(0.0, 1e-9));
}

TEST_CASE("the scale's colour of a film is the colour of that film", "[film][reading]") {
    const auto mix = blue();
    const calibration::ThicknessScale scale = scale_of(mix);
    for (const double film_um : {0.0, 0.03, 0.5, 2.0, 7.0}) {
        CAPTURE(film_um);
        const colour::Rgb scale_colour = scale.linear_colour(film_um),
                          true_colour = picture_colour(mix, film_um);
        CHECK_THAT(scale_colour.r, WithinAbs(true_colour.r, 1e-4));
        CHECK_THAT(scale_colour.g, WithinAbs(true_colour.g, 1e-4));
        CHECK_THAT(scale_colour.b, WithinAbs(true_colour.b, 1e-4));
    }
}

TEST_CASE("the noise of the bare card averages to no film", "[film][reading]") {
    const auto mix = blue();
    const calibration::ThicknessScale scale = scale_of(mix);
    const colour::Rgb bare = picture_colour(mix, 0);
    double sum = 0, squares = 0;
    constexpr int kPixels = 20000;
    for (int i = 0; i < kPixels; ++i) {
        const auto noisy = [&](double v, std::uint64_t stream) {
            const auto at = static_cast<std::uint64_t>(i);
            const double u = uniform01(3, stream, at), w = uniform01(4, stream, at);
            const double off = std::sqrt(-2 * std::log(1 - u)) * std::cos(2 * std::numbers::pi * w);
            return colour::linear_from_srgb(std::round(255 * colour::srgb_from_linear(v) + off) / 255);
        };
        const double film_um = scale.read({noisy(bare.r, 1), noisy(bare.g, 2), noisy(bare.b, 3)}).film_um;
        sum += film_um;
        squares += film_um * film_um;
    }
    const double code_um = scale.um_per_code(0);
    CHECK(std::sqrt(squares / kPixels) > 0.5 * code_um);  // there was noise
    CHECK(std::abs(sum / kPixels) < 0.05 * code_um);
}

TEST_CASE("a reading beyond the saturation limit is marked as saturated", "[film][reading]") {
    const auto mix = blue();
    const calibration::ThicknessScale scale = scale_of(mix);
    const double darkest = scale.saturation_limit().value;
    CHECK(scale.read(picture_colour(mix, 1.3 * darkest)).saturated);
    CHECK(scale.read(picture_colour(mix, 100 * darkest)).saturated);
    CHECK_FALSE(scale.read(picture_colour(mix, 0.8 * darkest)).saturated);
    // The definition of the limit: e times the film changes the colour by less than kMinCodeChange codes.
    const auto code_distance = [](const colour::Rgb& a, const colour::Rgb& b) {
        const auto code = [](double v) { return 255 * colour::srgb_from_linear(std::max(0.0, v)); };
        return std::hypot(code(a.r) - code(b.r), code(a.g) - code(b.g), code(a.b) - code(b.b));
    };
    CHECK(code_distance(picture_colour(mix, 1.02 * darkest),
                        picture_colour(mix, 1.02 * std::numbers::e * darkest)) < calibration::kMinCodeChange);
    CHECK(code_distance(picture_colour(mix, 0.5 * darkest),
                        picture_colour(mix, 0.5 * std::numbers::e * darkest)) >
          0.5 * calibration::kMinCodeChange);
}

TEST_CASE("a paint that hardly shows on the card has a short range of codes", "[film][reading]") {
    const auto white = test::unmixed(test::make_paint(test::in_thirds<colour::Absorption>({1e-3, 1e-3, 1e-3}),
                                                      test::in_thirds<colour::Scattering>({0.3, 0.3, 0.3})));
    CHECK(scale_of(white).range_codes() < 5);  // its masstone is as light as the card
    CHECK(scale_of(blue()).range_codes() > 100);
}

TEST_CASE("a colour of another paint has a large residual", "[film][reading]") {
    const auto mix = blue();
    const calibration::ThicknessScale scale = scale_of(mix);
    const colour::Rgb film = picture_colour(mix, 1);
    CHECK(scale.read({film.b, film.g, film.r}).residual_codes > 20);
}
