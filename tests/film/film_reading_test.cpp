#include "fadewright/film/film_reading.h"

#include "fadewright/colour/light.h"
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
    return test::alone(test::a_paint(test::in_thirds<colour::Absorption>({1.2, 0.25, 0.03}),
                                     test::in_thirds<colour::Scattering>({0.05, 0.06, 0.08})));
}

// Drawn without the scale's table: all bands, the skin, D65, linear sRGB.
colour::Rgb drawn(const paint::MixedPaint& mix, double film_um) {
    const auto weights =
        colour::weights(colour::standard_light(colour::StandardLight::D65), colour::Observer::two_degree);
    const auto R = film::seen(film::over(mix, Micrometres{film_um}, kCard), film::skin_at_normal({}),
                              film::Specular::excluded);
    return colour::to_linear_srgb(colour::to_xyz(R, weights), weights.white);
}

film::FilmScale scale_of(const paint::MixedPaint& mix) { return {mix, kCard, film::skin_at_normal({})}; }

}  // namespace

TEST_CASE("a film is read back from the colour it has", "[film][reading]") {
    const auto mix = blue();
    const film::FilmScale scale = scale_of(mix);
    int read = 0;
    for (double film_um = 0.01; film_um < scale.darkest().value; film_um *= 1.3) {
        CAPTURE(film_um);
        const film::ReadFilm back = scale.read(drawn(mix, film_um));
        CHECK_THAT(back.film_um, WithinRel(film_um, 0.002));
        CHECK(back.off_codes < 0.1);
        CHECK_FALSE(back.too_dark);
        ++read;
    }
    CHECK(read > 15);
    CHECK_THAT(scale.read(drawn(mix, 0)).film_um, WithinAbs(0.0, 1e-9));
}

TEST_CASE("what the scale shows of a film is what the film looks like", "[film][reading]") {
    const auto mix = blue();
    const film::FilmScale scale = scale_of(mix);
    for (const double film_um : {0.0, 0.03, 0.5, 2.0, 7.0}) {
        CAPTURE(film_um);
        const colour::Rgb shown = scale.seen(film_um), true_one = drawn(mix, film_um);
        CHECK_THAT(shown.r, WithinAbs(true_one.r, 1e-4));
        CHECK_THAT(shown.g, WithinAbs(true_one.g, 1e-4));
        CHECK_THAT(shown.b, WithinAbs(true_one.b, 1e-4));
    }
}

TEST_CASE("the noise of bare card averages to no film", "[film][reading]") {
    const auto mix = blue();
    const film::FilmScale scale = scale_of(mix);
    const colour::Rgb bare = drawn(mix, 0);
    double sum = 0, squares = 0;
    constexpr int kPixels = 20000;
    for (int i = 0; i < kPixels; ++i) {
        const auto noisy = [&](double v, std::uint64_t stream) {
            const auto at = static_cast<std::uint64_t>(i);
            const double u = random_unit(3, stream, at), w = random_unit(4, stream, at);
            const double off = std::sqrt(-2 * std::log(1 - u)) * std::cos(2 * std::numbers::pi * w);
            return colour::srgb_decoded(std::round(255 * colour::srgb_encoded(v) + off) / 255);
        };
        const double film_um = scale.read({noisy(bare.r, 1), noisy(bare.g, 2), noisy(bare.b, 3)}).film_um;
        sum += film_um;
        squares += film_um * film_um;
    }
    const double code_um = scale.um_per_code(0);
    CHECK(std::sqrt(squares / kPixels) > 0.5 * code_um);  // there was noise
    CHECK(std::abs(sum / kPixels) < 0.05 * code_um);
}

TEST_CASE("beyond the darkest film that can be told a reading says too dark", "[film][reading]") {
    const auto mix = blue();
    const film::FilmScale scale = scale_of(mix);
    const double darkest = scale.darkest().value;
    CHECK(scale.read(drawn(mix, 1.3 * darkest)).too_dark);
    CHECK(scale.read(drawn(mix, 100 * darkest)).too_dark);
    CHECK_FALSE(scale.read(drawn(mix, 0.8 * darkest)).too_dark);
    // What the limit stands for: e times the film changes the colour by less than kFaintestChange codes.
    const auto codes_apart = [](const colour::Rgb& a, const colour::Rgb& b) {
        const auto code = [](double v) { return 255 * colour::srgb_encoded(std::max(0.0, v)); };
        return std::hypot(code(a.r) - code(b.r), code(a.g) - code(b.g), code(a.b) - code(b.b));
    };
    CHECK(codes_apart(drawn(mix, 1.02 * darkest), drawn(mix, 1.02 * std::numbers::e * darkest)) <
          film::kFaintestChange);
    CHECK(codes_apart(drawn(mix, 0.5 * darkest), drawn(mix, 0.5 * std::numbers::e * darkest)) >
          0.5 * film::kFaintestChange);
}

TEST_CASE("a paint that hardly shows on the card has hardly any reach", "[film][reading]") {
    const auto white = test::alone(test::a_paint(test::in_thirds<colour::Absorption>({1e-3, 1e-3, 1e-3}),
                                                 test::in_thirds<colour::Scattering>({0.3, 0.3, 0.3})));
    CHECK(scale_of(white).reach_codes() < 5);  // its masstone is as light as the card
    CHECK(scale_of(blue()).reach_codes() > 100);
}

TEST_CASE("a colour that is not the paint's own is told by its distance", "[film][reading]") {
    const auto mix = blue();
    const film::FilmScale scale = scale_of(mix);
    const colour::Rgb film = drawn(mix, 1);
    CHECK(scale.read({film.b, film.g, film.r}).off_codes > 20);
}
