#include "fadewright/colour/illuminant.h"

#include "published_table.h"

#include <catch2/catch.hpp>

#include <array>
#include <cmath>
#include <string>
#include <vector>

using namespace fadewright::colour;
using Catch::Matchers::WithinAbs;

namespace {

constexpr StandardIlluminant kLights[] = {
    StandardIlluminant::D65, StandardIlluminant::D50, StandardIlluminant::A, StandardIlluminant::F2,
    StandardIlluminant::F11, StandardIlluminant::LED, StandardIlluminant::C, StandardIlluminant::D55,
    StandardIlluminant::D75, StandardIlluminant::F7};

Observer observer_of(const fadewright::test::Row& row) {
    return row.text("observer") == "2" ? Observer::two_degree : Observer::ten_degree;
}

const Illuminant& light_of(const fadewright::test::Row& row) {
    const Illuminant* light = standard_illuminant(row.text("light"));
    REQUIRE(light != nullptr);
    return *light;
}

// The illuminant as in the independent program: values at 5 nm, linear between them even for line spectra,
// constant beyond them.
Illuminant straight_from_5_nm(const Illuminant& light) {
    Illuminant out{light.id, light.title, {}, {}, false};
    for (std::size_t i = 0; i < light.power.size(); ++i) {
        if (std::fmod(light.wavelengths_nm[i], 5.0) != 0) continue;
        out.wavelengths_nm.push_back(light.wavelengths_nm[i]);
        out.power.push_back(light.power[i]);
    }
    if (out.wavelengths_nm.front() > 360) {
        out.wavelengths_nm.insert(out.wavelengths_nm.begin(), 360);
        out.power.insert(out.power.begin(), out.power.front());
    }
    return out;
}

XYZ planck_white(double kelvin) {
    constexpr double kC2_nm_K = 1.4388e7;  // second constant of radiation [tiesinga2021]
    Illuminant light{"planck", "black body", {}, {}, false};
    for (double nm = 360; nm <= 830; nm += 1) {
        light.wavelengths_nm.push_back(nm);
        light.power.push_back(std::pow(560 / nm, 5) / std::expm1(kC2_nm_K / (kelvin * nm)));
    }
    return tristimulus_weights(light, Observer::two_degree).white;
}

}  // namespace

TEST_CASE("the white under every standard illuminant is the published one", "[colour][published]") {
    const auto rows = fadewright::test::published_rows("white_points.csv");
    REQUIRE(rows.size() == 18);
    for (const auto& row : rows) {
        CAPTURE(row.text("light"), row.text("observer"));
        const XYZ white = tristimulus_weights(light_of(row), observer_of(row)).white;
        CHECK_THAT(white.X,
                   WithinAbs(row.number("X"), 0.01));  // three places, whose makers differ by a few 0.001
        CHECK_THAT(white.Z, WithinAbs(row.number("Z"), 0.01));
        CHECK_THAT(white.Y, WithinAbs(100, 1e-12));
    }
}

TEST_CASE("weights agree with an independent computation by the same method", "[colour][published]") {
    // Both programs interpolate the observer's 5 nm table to 1 nm, and the method does not say how: that
    // explains 0.0012 under smooth illuminants and 0.0033 at the line of a tube (0.0063 with a cubic instead
    // of a quintic).
    constexpr double kSmooth = 0.0015, kTube = 0.0035;
    const auto rows = fadewright::test::published_rows("weights_e2022_10nm.csv");
    REQUIRE(rows.size() == 10 * kBandCount);
    std::string computed_white;
    TristimulusWeights computed;
    for (const auto& row : rows) {
        if (const std::string expected = row.text("light") + row.text("observer");
            expected != computed_white) {
            computed = tristimulus_weights(straight_from_5_nm(light_of(row)), observer_of(row));
            computed_white = expected;
        }
        CAPTURE(computed_white, row.text("nm"));
        const auto band = static_cast<std::size_t>((row.number("nm") - kFirstBand_nm) / kBandStep_nm);
        const double tolerance = light_of(row).narrow_band ? kTube : kSmooth;
        CHECK_THAT(computed.w[band][0], WithinAbs(row.number("X"), tolerance));
        CHECK_THAT(computed.w[band][1], WithinAbs(row.number("Y"), tolerance));
        CHECK_THAT(computed.w[band][2], WithinAbs(row.number("Z"), tolerance));
    }
}

TEST_CASE("the weights of X under D50 are those of ISO 13655", "[colour][published]") {
    const TristimulusWeights computed =
        tristimulus_weights(standard_illuminant(StandardIlluminant::D50), Observer::two_degree);
    double sum = 0;
    const auto rows = fadewright::test::published_rows("iso13655_d50_x.csv");
    REQUIRE(rows.size() == kBandCount);
    for (std::size_t band = 0; band < kBandCount; ++band) {
        CAPTURE(band);
        REQUIRE(rows[band].number("nm") == band_nm(band));
        sum += rows[band].number("X");
        // The standard interpolates in a different way; an independent table by E2022 differs by 0.009.
        if (band + 1 < kBandCount) CHECK_THAT(computed.w[band][0], WithinAbs(rows[band].number("X"), 0.009));
    }
    // The published row ignores the range beyond its last band; ours includes it.
    CHECK_THAT(computed.w[kBandCount - 1][0] - rows.back().number("X"),
               WithinAbs(computed.white.X - sum, 0.002));
}

TEST_CASE("a perfect white has exactly the XYZ of the white, and a grey its share of it", "[colour]") {
    for (const StandardIlluminant light : kLights)
        for (const Observer observer : {Observer::two_degree, Observer::ten_degree}) {
            const TristimulusWeights computed = tristimulus_weights(standard_illuminant(light), observer);
            CAPTURE(standard_illuminant(light).id);
            CHECK(to_xyz(Reflectance::constant(1), computed) == computed.white);
            CHECK_THAT(to_xyz(Reflectance::constant(0.18), computed).Y, WithinAbs(18, 1e-12));
            CHECK(to_xyz(Reflectance{}, computed) == XYZ{});
        }
}

TEST_CASE("every standard illuminant is found by its id and has a title", "[colour]") {
    for (const StandardIlluminant light : kLights) {
        const Illuminant& first_white = standard_illuminant(light);
        CHECK(standard_illuminant(first_white.id) == &first_white);
        CHECK_FALSE(first_white.title.empty());
        REQUIRE(first_white.wavelengths_nm.size() == first_white.power.size());
        for (std::size_t i = 0; i < first_white.power.size(); ++i) {
            CHECK(first_white.power[i] >= 0);
            if (i > 0) CHECK(first_white.wavelengths_nm[i] > first_white.wavelengths_nm[i - 1]);
        }
    }
    CHECK(standard_illuminant("D66") == nullptr);
}

TEST_CASE("only the fluorescent tubes are narrow-band", "[colour]") {
    for (const StandardIlluminant light : kLights) {
        const Illuminant& first_white = standard_illuminant(light);
        CAPTURE(first_white.id);
        CHECK(first_white.narrow_band == (first_white.id[0] == 'F'));
    }
}

TEST_CASE("the modelled LED is a neutral white near 4000 K", "[colour]") {
    // CIE 1960 u, v: within 0.003 of the black body is a white light source (common practice, no
    // source).
    const auto uv = [](const XYZ& w) {
        const double sum = w.X + 15 * w.Y + 3 * w.Z;
        return std::array<double, 2>{4 * w.X / sum, 6 * w.Y / sum};
    };
    const auto led =
        uv(tristimulus_weights(standard_illuminant(StandardIlluminant::LED), Observer::two_degree).white);
    const auto black_body = uv(planck_white(4000));
    CHECK(std::hypot(led[0] - black_body[0], led[1] - black_body[1]) < 0.003);
}

TEST_CASE("a single spectral line gives the colour-matching functions at its wavelength", "[colour]") {
    // At 555 nm, a row of the table: only the bands around it have weights, and together they give x / y and
    // z / y.
    const Illuminant line{"line", "one line", {555}, {7}, true};
    const TristimulusWeights computed = tristimulus_weights(line, Observer::two_degree);
    const ColourMatchingFunctions& eye = colour_matching_functions(Observer::two_degree);
    REQUIRE(eye.wavelengths_nm[39] == 555);
    CHECK_THAT(computed.white.X, WithinAbs(100 * eye.x[39] / eye.y[39], 1e-10));
    CHECK_THAT(computed.white.Z, WithinAbs(100 * eye.z[39] / eye.y[39], 1e-10));
    // Halfway between bands the Lagrange cubic takes 9/16 of each neighbour and -1/16 of the next ones.
    CHECK_THAT(computed.w[17][1], WithinAbs(100 * 9.0 / 16, 1e-10));
    CHECK_THAT(computed.w[18][1], WithinAbs(100 * 9.0 / 16, 1e-10));
    CHECK_THAT(computed.w[16][1], WithinAbs(-100 / 16.0, 1e-10));
    CHECK_THAT(computed.w[15][1], WithinAbs(0, 1e-12));
}

TEST_CASE("the observers have their peaks at the right wavelengths", "[colour]") {
    const ColourMatchingFunctions& second_white = colour_matching_functions(Observer::two_degree);
    CHECK(second_white.wavelengths_nm.front() == 360);
    CHECK(second_white.wavelengths_nm.back() == 830);
    REQUIRE(second_white.y.size() == second_white.wavelengths_nm.size());
    CHECK(second_white.y[39] == 1.0);  // 555 nm, V(lambda) = 1 by definition
    CHECK(&colour_matching_functions(Observer::ten_degree) != &second_white);
}
