#include "fadewright/colour/visibility.h"
#include "fadewright/colour/lab.h"

#include "published_table.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace fadewright;
using namespace fadewright::colour;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

TEST_CASE("pupil, light on the retina and sensitivity have their check values", "[colour][published]") {
    // The digits were calculated independently of this program. Source: [barten1999].
    CHECK_THAT(pupil_diameter({100, Degrees{60}}).value, WithinAbs(2.0777571, 5e-8));
    CHECK_THAT(retinal_illuminance_td(100, Millimetres{2.1}), WithinAbs(330.41158, 5e-6));
    // The usual example: a pupil of 2.1 mm, 20 cd/m2, 60 degrees.
    const double E = retinal_illuminance_td(20, Millimetres{2.1});
    CHECK_THAT(contrast_sensitivity(4, Millimetres{2.1}, E, Degrees{60}), WithinAbs(360.86911223, 5e-9));
}

TEST_CASE("threshold modulations are those of the printed table", "[colour][published]") {
    const auto rows = test::published_rows("barten_thresholds.csv");
    REQUIRE(rows.size() == 13);
    for (const auto& row : rows) {
        CAPTURE(row.number("cycles_per_deg"));
        CHECK_THAT(100 * threshold_modulation(row.number("cycles_per_deg")),
                   WithinAbs(row.number("percent"), row.number("tolerance")));
    }
}

TEST_CASE("sensitivity is zero at zero frequency and lower in the dark", "[colour]") {
    CHECK(contrast_sensitivity(0) == 0);
    CHECK(threshold_modulation(4, {1, Degrees{20}}) > 2 * threshold_modulation(4));
    CHECK(threshold_modulation(4, {0.1, Degrees{20}}) > 2 * threshold_modulation(4, {1, Degrees{20}}));
    // A small field contains fewer broad stripes.
    CHECK(threshold_modulation(0.5, {100, Degrees{2}}) > 2 * threshold_modulation(0.5));
}

TEST_CASE("a step is visible by the first harmonic of a square wave", "[colour][published]") {
    // ITU-R BT.2246: twice the modulation over 1.27.
    CHECK_THAT(step_from_modulation(0.0127), WithinRel(0.02, 1e-12));
    // The minimum of the table is between 2 and 3 cycles/deg, a little below 0.149 %.
    CHECK(threshold_step() < step_from_modulation(0.00149));
    CHECK(threshold_step() > step_from_modulation(0.00144));
    for (double u = 0.1; u < 30; u *= 1.05)
        CHECK(step_from_modulation(threshold_modulation(u)) >= threshold_step() * (1 - 1e-9));
}

TEST_CASE("ramps count as steps up to half a degree and by their slope beyond", "[colour][published]") {
    // Campbell, Johnstone & Ross: below half a degree the threshold of the square wave, above it the slope.
    CHECK(threshold_ramp(Degrees{0}) == threshold_step());
    CHECK(threshold_ramp(Degrees{0.5}) == threshold_step());
    CHECK_THAT(threshold_ramp(Degrees{4}), WithinRel(8 * threshold_step(), 1e-12));
    for (const double width : {0.6, 1.0, 7.0})
        CHECK_THAT(threshold_ramp(Degrees{width}) / width, WithinRel(threshold_slope_per_deg(), 1e-12));
}

TEST_CASE("one percent of luminance is a fifth of a lightness step at mid grey", "[colour][published]") {
    // Printed to two places.
    const double printed[][2] = {{20, 0.12}, {50, 0.22}, {80, 0.32}, {95, 0.37}};
    for (const auto& [L, dL] : printed) CHECK_THAT(lightness_step(L, 0.01), WithinAbs(dL, 0.005));
    const XYZ white{95.047, 100, 108.883};
    for (const double L : {1.0, 5.0, 7.99, 8.01, 30.0, 90.0}) {
        XYZ xyz = to_xyz(Lab{L, 0, 0}, white);
        xyz.Y *= 1 + 1e-6;
        CAPTURE(L);
        CHECK_THAT(lightness_step(L, 1e-6), WithinRel(to_lab(xyz, white).L - L, 1e-5));
        CHECK_THAT(contrast_of_lightness_step(L, lightness_step(L, 0.02)), WithinRel(0.02, 1e-12));
    }
}

TEST_CASE("a degree is 17.5 mm at a metre, and stripes get finer with viewing distance",
          "[colour][published]") {
    const double printed[][3] = {
        {500, 8.73, 0.005}, {1000, 17.5, 0.05}, {2000, 34.9, 0.05}, {3000, 52.4, 0.05}};
    for (const auto& [distance, mm, half_place] : printed)
        CHECK_THAT(millimetres_per_degree(Millimetres{distance}).value, WithinAbs(mm, half_place));
    // Spacing in mm, distance in mm, cycles per degree as printed.
    const double stripes[][4] = {{100, 1000, 0.17, 0.005}, {100, 3000, 0.52, 0.005}, {100, 5000, 0.87, 0.005},
                                 {50, 1000, 0.35, 0.005},  {50, 3000, 1.05, 0.005},  {50, 5000, 1.75, 0.005},
                                 {20, 1000, 0.87, 0.005},  {20, 3000, 2.6, 0.05},    {20, 5000, 4.4, 0.05},
                                 {5, 500, 1.75, 0.005}};
    for (const auto& [spacing, distance, u, half_place] : stripes)
        CHECK_THAT(cycles_per_degree(Millimetres{distance}, Millimetres{spacing}), WithinAbs(u, half_place));
}

TEST_CASE("stripes of a wide fan are visible across the room, not at arm's length", "[colour]") {
    // One percent of modulation, 100 mm apart: near the threshold at a metre, four to five times it at five.
    const auto times = [](double distance) {
        return 0.01 / threshold_modulation(cycles_per_degree(Millimetres{distance}, Millimetres{100}));
    };
    CHECK_THAT(times(1000), WithinAbs(1.06, 0.05));
    CHECK(times(5000) > 4);
    CHECK(times(5000) < 5);
    CHECK(visibility(times(1000)) == Visibility::just_visible);
    CHECK(visibility(times(5000)) == Visibility::visible);
}

TEST_CASE("visibility has three levels", "[colour]") {
    CHECK(visibility(0) == Visibility::invisible);
    CHECK(visibility(0.5) == Visibility::invisible);
    CHECK(visibility(0.52) == Visibility::just_visible);
    CHECK(visibility(1.9) == Visibility::just_visible);
    CHECK(visibility(2) == Visibility::visible);
}
