#include "fadewright/paint/parametric_ks.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <cstddef>

using namespace fadewright;
using namespace fadewright::paint;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr std::size_t band_at(double nm) {
    return static_cast<std::size_t>((nm - colour::kFirstBand_nm) / colour::kBandStep_nm);
}

PerMicrometre per_um(double v) { return PerMicrometre{v}; }

AbsorptionModel single_band(double skew) {
    AbsorptionModel model;
    model.bands.push_back({Nanometres{560}, Nanometres{80}, skew, per_um(2)});
    return model;
}

}  // namespace

TEST_CASE("a band has its full strength at the centre and half of it at half its width", "[paint]") {
    const auto K = parametric_absorption(single_band(0));
    CHECK_THAT(K[band_at(560)], WithinRel(2.0, 1e-15));
    CHECK_THAT(K[band_at(520)], WithinRel(1.0, 1e-15));
    CHECK_THAT(K[band_at(600)], WithinRel(1.0, 1e-15));
    CHECK_THAT(K[band_at(480)], WithinRel(2.0 / 16, 1e-15));  // twice as far, four halvings
}

TEST_CASE("a skewed band keeps its width and moves it to one side", "[paint]") {
    const auto K = parametric_absorption(single_band(0.5));
    CHECK_THAT(K[band_at(560)], WithinRel(2.0, 1e-15));
    CHECK_THAT(K[band_at(540)], WithinRel(1.0, 1e-15));  // a quarter of the width below
    CHECK_THAT(K[band_at(620)], WithinRel(1.0, 1e-15));  // three quarters above
}

TEST_CASE("an edge absorbs everything below and nothing above", "[paint]") {
    AbsorptionModel model;
    model.edges.push_back({Nanometres{520}, Nanometres{8}, per_um(3)});
    const auto K = parametric_absorption(model);
    CHECK_THAT(K[band_at(520)], WithinRel(1.5, 1e-15));
    CHECK_THAT(K[band_at(380)], WithinRel(3.0, 1e-7));
    CHECK(K[band_at(700)] < 1e-8);
    for (std::size_t band = 1; band < colour::kBandCount; ++band) CHECK(K[band] < K[band - 1]);
}

TEST_CASE("a baseline is added everywhere and may slope", "[paint]") {
    AbsorptionModel model = single_band(0);
    model.baseline = per_um(0.3);
    CHECK_THAT(parametric_absorption(model)[band_at(730)], WithinAbs(0.3, 1e-5));
    CHECK_THAT(parametric_absorption(model)[band_at(560)], WithinRel(2.3, 1e-15));
    model.baseline_slope = 2;
    CHECK_THAT(parametric_absorption(model)[band_at(380)], WithinAbs(0.3 * std::pow(550.0 / 380, 2), 1e-5));
}

TEST_CASE("scattering rises towards short wavelengths by its slope", "[paint]") {
    // A slope of 1.5 is the ratio 1.35 : 1 : 0.78 of blue, green and red often drawn for white.
    const auto S = parametric_scattering({per_um(0.2), 1.5, {}});
    CHECK_THAT(S[band_at(550)], WithinRel(0.2, 1e-15));
    CHECK_THAT(S[band_at(450)] / S[band_at(550)], WithinAbs(1.35, 0.005));
    CHECK_THAT(S[band_at(650)] / S[band_at(550)], WithinAbs(0.78, 0.005));
}

TEST_CASE("scattering may rise above an edge", "[paint]") {
    const auto plain = parametric_scattering({per_um(0.1), 0, {}});
    const auto raised =
        parametric_scattering({per_um(0.1), 0, {{Nanometres{580}, Nanometres{60}, 0, per_um(0.05)}}});
    CHECK(plain == colour::Scattering::constant(0.1));
    CHECK_THAT(raised[band_at(580)], WithinRel(0.15, 1e-15));
    CHECK_THAT(raised[band_at(550)], WithinRel(0.125, 1e-15));
}

TEST_CASE("without parameters the film is clear", "[paint]") {
    CHECK(parametric_absorption({}) == colour::Absorption::constant(0));
    CHECK(parametric_scattering({}) == colour::Scattering::constant(0));
}
