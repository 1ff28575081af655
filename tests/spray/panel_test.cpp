#include "fadewright/spray/panel.h"

#include "fadewright/base/parallel.h"
#include "published_table.h"
#include "some_guns.h"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace fadewright;
using namespace fadewright::spray;
using test::at;
using test::deposit;
using test::published_rows;

namespace {

const Panel kPanel{Millimetres{300}, Millimetres{200}, Millimetres{40}};

constexpr double kLanded = 1e-6;       // of the paint sprayed, as panel.h states
constexpr double kLandedSteep = 2e-5;  // fans of lower tapers

}  // namespace

TEST_CASE("a panel ends at its edges and round its corners", "[spray]") {
    CHECK(kPanel.inside(150, 100));
    CHECK(kPanel.inside(0, 100));
    CHECK_FALSE(kPanel.inside(-0.1, 100));
    CHECK(kPanel.inside(40, 200));
    CHECK_FALSE(kPanel.inside(1, 1));
    const double on_the_arc = 40 - 40 / std::sqrt(2);
    CHECK(kPanel.inside(on_the_arc + 1e-9, on_the_arc + 1e-9));
    CHECK_FALSE(kPanel.inside(on_the_arc - 1e-6, on_the_arc - 1e-6));
    const Panel square{Millimetres{300}, Millimetres{200}, Millimetres{0}};
    CHECK(square.inside(0, 0));
}

TEST_CASE("the distance to the outline is the distance to its nearest point", "[spray]") {
    CHECK(kPanel.signed_distance_mm(150, 100) == Approx(-100));
    CHECK(kPanel.signed_distance_mm(20, 100) == Approx(-20));
    CHECK(kPanel.signed_distance_mm(330, 100) == Approx(30));
    CHECK(kPanel.signed_distance_mm(150, -7) == Approx(7));
    CHECK(kPanel.signed_distance_mm(0, 0) == Approx(40 * (std::sqrt(2) - 1)));
    CHECK(kPanel.signed_distance_mm(300, 200) == Approx(40 * (std::sqrt(2) - 1)));
    CHECK(kPanel.signed_distance_mm(40, 40) == Approx(-40));
    const Panel square{Millimetres{300}, Millimetres{200}, Millimetres{0}};
    CHECK(square.signed_distance_mm(-3, -4) == Approx(5));
}

TEST_CASE("rounded corners reduce the area by a square less its circle", "[spray]") {
    CHECK(kPanel.area_m2() == Approx((300 * 200 - (4 - std::numbers::pi) * 1600) * 1e-6));
    const Panel disc{Millimetres{100}, Millimetres{100}, Millimetres{80}};
    CHECK(disc.area_m2() == Approx(std::numbers::pi * 2500 * 1e-6));  // radius clamped to half the side
}

TEST_CASE("a large panel receives all that lands, and half of it if the outline halves the pass",
          "[spray][volume]") {
    for (const Gun& gun :
         {test::round_gun(9), test::fan_gun(120, 50, 2, 2), test::fan_gun(120, 30, 2.5, 2.7)}) {
        const Panel panel{Millimetres{400}, Millimetres{1000}, Millimetres{30}};
        const Deposit whole = deposit(gun, {test::straight(at(150, 500), at(250, 520))});
        CHECK(landed_volume(whole, panel).value ==
              Approx(whole.landed_on_infinite_plane().value).epsilon(kLanded));
        // Along the left edge, far from the corners: half the pass misses.
        const Deposit half = deposit(gun, {test::straight(at(0, 300), at(0, 700))});
        CHECK(landed_volume(half, panel).value ==
              Approx(half.landed_on_infinite_plane().value / 2).epsilon(kLanded));
        // Into the lower edge from below: by symmetry half the pass again.
        const Deposit into = deposit(gun, {test::straight(at(200, -150), at(200, 150))});
        CHECK(landed_volume(into, panel).value ==
              Approx(into.landed_on_infinite_plane().value / 2).epsilon(kLanded));
        const Deposit pass_beside = deposit(gun, {test::straight(at(-200, 300), at(-200, 700))});
        CHECK(landed_volume(pass_beside, panel).value == 0);
    }
}

TEST_CASE("what lands on a rounded panel agrees with a fine grid", "[spray][volume]") {
    const Panel panel{Millimetres{90}, Millimetres{70}, Millimetres{25}};
    const std::vector<std::pair<Gun, double>> guns{{test::round_gun(12), kLanded},
                                                   {test::fan_gun(80, 40, 2, 2), kLanded},
                                                   {test::fan_gun(80, 40, 1, 1), kLandedSteep}};
    for (const auto& [gun, bound] : guns) {
        Pass pass = test::straight(at(-20, 5), at(70, 60));
        pass.feather_off = Millimetres{40};
        const Deposit d = deposit(gun, {pass});
        constexpr double step = 0.1;  // squares on the outline count by their share inside
        double grid_um = 0;
        for (double y = step / 2; y < 70; y += step)
            for (double x = step / 2; x < 90; x += step) {
                const double covered = std::clamp(0.5 - panel.signed_distance_mm(x, y) / step, 0.0, 1.0);
                if (covered > 0) grid_um += covered * d.wet_um(x, y);
            }
        CHECK(landed_volume(d, panel).value == Approx(grid_um * step * step * 1e-6).epsilon(bound));
    }
}

TEST_CASE("an edge through the centre of a pass loses half of it, for any fan", "[spray][volume]") {
    const Panel panel{Millimetres{400}, Millimetres{400}, Millimetres{0}};
    const Panel disc{Millimetres{400}, Millimetres{400}, Millimetres{200}};
    const std::pair<double, double> tapers[] = {{1, 1},   {1, 2},      {2, 1}, {1.2, 1.1}, {1.5, 1.5},
                                                {2, 1.5}, {1.75, 1.6}, {2, 2}, {3, 2.5}};
    for (const auto& [across, along] : tapers)
        for (const double shift : {0.0, 7.0, 21.0, 35.0}) {
            CAPTURE(across, along, shift);
            const double bound = std::min(across, along) < 2 ? kLandedSteep : kLanded;
            const Gun gun = test::fan_gun(120, 40, across, along);
            // Through the lower edge, straight and slanted: the loss is the mirror image of what lands.
            for (const Pass& pass : {test::straight(at(200 + shift, -120), at(200 + shift, 120)),
                                     test::straight(at(200 - shift, -100), at(200 + shift, 100))}) {
                const Deposit d = deposit(gun, {pass});
                CHECK(landed_volume(d, panel).value ==
                      Approx(d.landed_on_infinite_plane().value / 2).epsilon(bound));
                CHECK(landed_volume(d, disc).value < d.landed_on_infinite_plane().value / 2);
            }
        }
}

TEST_CASE("what lands is the same to the last bit for any number of threads", "[spray][property]") {
    const Gun gun = test::fan_gun(120, 50, 2.2, 2);
    Sweep sweep;
    sweep.from = at(0, 0);
    sweep.to = at(300, 200);
    sweep.overlap = Share{0.8};
    const Deposit d = deposit(gun, sweep_passes(sweep, gun));
    const auto landed = [&](int threads) {
        const ThreadLimit limit(threads);
        return landed_volume(d, kPanel).value;
    };
    CHECK(landed(2) == landed(1));
    CHECK(landed(5) == landed(1));
}

TEST_CASE("one square metre under one micrometre is one millilitre", "[spray][volume]") {
    CHECK(paint_in_film(Micrometres{1}, 1).value == 1);
    // A large even film: long passes close together, well beyond the panel.
    Gun gun = test::round_gun(20);
    Sweep sweep;
    sweep.from = at(-200, -200);
    sweep.to = at(700, 600);
    sweep.overlap = Share{0.75};
    const Deposit d = deposit(gun, sweep_passes(sweep, gun));
    const Panel panel{Millimetres{500}, Millimetres{400}, Millimetres{50}};
    const double film_um = d.wet_um(250, 200);
    CHECK(landed_volume(d, panel).value ==
          Approx(paint_in_film(Micrometres{film_um}, panel.area_m2()).value));
}

TEST_CASE("areas covered agree with the spreading rates of paint data sheets", "[spray][published_rows]") {
    constexpr double square_feet_per_square_metre = 1 / (0.3048 * 0.3048);
    for (const auto& row : published_rows("spreading.csv")) {
        const Millilitres solids{1000 * row.number("volume_L") * row.number("solids") *
                                 row.number("landing")};
        const double area = area_covered_m2(solids, Micrometres{row.number("dry_um")});
        if (!row.text("area_m2").empty())
            CHECK(area == Approx(row.number("area_m2")).margin(row.number("tolerance_m2")).epsilon(0));
        if (!row.text("area_ft2").empty())
            CHECK(area * square_feet_per_square_metre ==
                  Approx(row.number("area_ft2")).margin(row.number("tolerance_ft2")).epsilon(0));
    }
}
