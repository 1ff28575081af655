#include "fadewright/spray/sag_levelling.h"

#include "published_table.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <string>

using namespace fadewright;
using namespace fadewright::spray;
using test::published_rows;

namespace {

Approx printed(double value, double half_place) { return Approx(value).margin(half_place).epsilon(0); }

}  // namespace

TEST_CASE("sag speeds on an upright panel agree with the table", "[spray][published_rows]") {
    for (const auto& row : published_rows("sagging.csv")) {
        WetPaint paint;
        paint.density = GramsPerMillilitre{row.number("density")};
        paint.viscosity_mPa_s = row.number("viscosity_mPa_s");
        const Micrometres film{row.number("film_um")};
        CAPTURE(film.value, paint.viscosity_mPa_s);
        const Sag s = sag(paint, film);
        CHECK(s.surface_mm_per_s == printed(row.number("surface_mm_per_s"), 5.1e-5));
        CHECK(s.mean_mm_per_s == Approx(s.surface_mm_per_s * 2 / 3).epsilon(1e-14));
        if (row.text("flow_mm2_per_s").empty()) continue;
        CHECK(s.flow_mm2_per_s == Approx(row.number("flow_mm2_per_s")).epsilon(0.0015));  // three digits
        CHECK(yield_to_hold_Pa(paint, film) == printed(row.number("yield_Pa"), 0.0051));
    }
}

TEST_CASE("twice the film is eight times the flow, and half the slope half of it", "[spray][property]") {
    const WetPaint paint;
    const Sag once = sag(paint, Micrometres{30});
    CHECK(sag(paint, Micrometres{60}).flow_mm2_per_s == Approx(8 * once.flow_mm2_per_s).epsilon(1e-14));
    CHECK(sag(paint, Micrometres{30}, Degrees{30}).flow_mm2_per_s ==
          Approx(once.flow_mm2_per_s / 2).epsilon(1e-14));
    CHECK(sag(paint, Micrometres{30}, Degrees{0}).flow_mm2_per_s == 0);
    CHECK(sag(paint, Micrometres{30}, Degrees{120}).flow_mm2_per_s ==
          Approx(sag(paint, Micrometres{30}, Degrees{60}).flow_mm2_per_s).epsilon(1e-14));
}

TEST_CASE("static sag limit and yield stress invert each other", "[spray]") {
    const WetPaint paint;
    for (const double alpha : {20.0, 60.0, 90.0}) {
        const double yield = yield_to_hold_Pa(paint, Micrometres{70}, Degrees{alpha});
        CHECK(static_sag_limit(paint, yield, Degrees{alpha}).value == Approx(70).epsilon(1e-13));
    }
    CHECK(std::isinf(static_sag_limit(paint, 1, Degrees{0}).value));
}

TEST_CASE("paint that thickens stops after the slide of its sag limit", "[spray][published_rows]") {
    // Computed independently, printed in whole um, density 1.1.
    WetPaint paint;
    CHECK(sag_limit(paint, Seconds{10}, Millimetres{1}).value == printed(43, 0.5));
    paint.viscosity_mPa_s = 50;
    CHECK(sag_limit(paint, Seconds{30}, Millimetres{5}).value == printed(39, 0.5));
    CHECK(std::isinf(sag_limit(paint, Seconds{30}, Millimetres{5}, Degrees{0}).value));

    // Against the slide itself, integrated in small time steps.
    const Seconds tau{8};
    const Micrometres film = sag_limit(paint, tau, Millimetres{2}, Degrees{70});
    constexpr double step_s = 0.001;
    double slid_mm = 0;
    for (double t = step_s / 2; t < 40 * tau.value; t += step_s) {
        WetPaint now = paint;
        now.viscosity_mPa_s = paint.viscosity_mPa_s * std::exp(t / tau.value);
        slid_mm += sag(now, film, Degrees{70}).surface_mm_per_s * step_s;
    }
    CHECK(slid_mm == Approx(2).epsilon(1e-6));
}

TEST_CASE("levelling times agree with the table", "[spray][published_rows]") {
    for (const auto& row : published_rows("levelling.csv")) {
        WetPaint paint;
        paint.viscosity_mPa_s = row.number("viscosity_mPa_s");
        const Seconds t = levelling_time(paint, Millimetres{row.number("wavelength_mm")},
                                         Micrometres{row.number("film_um")});
        CAPTURE(row.text("wavelength_mm"), row.text("film_um"));
        CHECK(t.value == printed(row.number("seconds"), 0.51 * row.number("unit")));
    }
}

TEST_CASE("the 4 mm flow cup agrees with its table, both ways", "[spray][published_rows]") {
    for (const auto& row : published_rows("din_cup.csv")) {
        const Seconds efflux_time{row.number("seconds")};
        CAPTURE(efflux_time.value);
        const double nu = din4_mm2_per_s(efflux_time);
        CHECK(nu == Approx(row.number("mm2_per_s")).epsilon(0.0018));  // three digits
        CHECK(din4_seconds(nu).value == Approx(efflux_time.value).epsilon(1e-13));
    }
}

TEST_CASE("viscosity with a tenth of water agrees with measurements", "[spray][published_rows]") {
    const auto rows = published_rows("thinning.csv");
    int of_the_named_thickness = 0;
    for (const auto& row : rows) {
        const double before = astm4_mm2_per_s(Seconds{row.number("before_s")});
        const double after = astm4_mm2_per_s(Seconds{row.number("after_s")});
        CAPTURE(before, after);
        // A line through the logarithms of these readings, stated to be within 0.009; its slope is
        // printed to three places, which adds another 0.0025.
        CHECK(std::log(after) == printed(0.745 * std::log(before) + 0.673, 0.0115));
        if (before < 79 || before > 136) continue;
        ++of_the_named_thickness;
        CHECK(thinned_viscosity(before, 0.1) == Approx(after).epsilon(0.1));
    }
    CHECK(of_the_named_thickness == 5);
    // Published of the same readings: 77 becomes 50, 96 becomes 59, 135 becomes 75 mm2/s.
    CHECK(astm4_mm2_per_s(Seconds{rows[0].number("before_s")}) == printed(77, 0.5));
    CHECK(astm4_mm2_per_s(Seconds{rows[0].number("after_s")}) == printed(50, 0.5));
    CHECK(astm4_mm2_per_s(Seconds{rows[5].number("before_s")}) == printed(135, 0.5));
    CHECK(astm4_mm2_per_s(Seconds{rows[5].number("after_s")}) == printed(75, 0.5));
}

TEST_CASE("thinning twice is thinning by the sum", "[spray][property]") {
    CHECK(thinned_viscosity(thinned_viscosity(90, 0.05), 0.07) ==
          Approx(thinned_viscosity(90, 0.12)).epsilon(1e-14));
    CHECK(thinned_viscosity(90, 0) == 90);
}
