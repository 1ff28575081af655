#include "fadewright/spray/droplet.h"

#include "fadewright/base/random.h"
#include "fadewright/spray/gun.h"
#include "published_table.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <cstdint>
#include <numbers>

using namespace fadewright;
using namespace fadewright::spray;
using test::published_rows;

namespace {

constexpr GramsPerMillilitre kWater{1.0};

Approx printed(double value, double half_place) { return Approx(value).margin(half_place).epsilon(0); }

}  // namespace

TEST_CASE("air leaves the cap in isentropic flow and never faster than sound", "[spray][published_rows]") {
    // Computed independently for air at 20 C, printed in whole m/s; 0.9 bar and more: choked. The last whole
    // number may be cut instead of rounded.
    CHECK(cap_air_m_per_s(Bar{0.35}) == printed(219, 1));
    CHECK(cap_air_m_per_s(Bar{0.5}) == printed(252, 1));
    CHECK(cap_air_m_per_s(Bar{0.7}) == printed(286, 1));
    CHECK(cap_air_m_per_s(Bar{0.91}) == printed(313, 1));
    CHECK(cap_air_m_per_s(Bar{3}) == cap_air_m_per_s(Bar{0.91}));
    CHECK(cap_air_m_per_s(Bar{0}) == 0);
    CHECK(cap_air_m_per_s(Bar{0.88}) < cap_air_m_per_s(Bar{3}));
}

TEST_CASE("plain jets atomise to the sizes of the table", "[spray][published_rows]") {
    for (const auto& row : published_rows("plain_jet.csv")) {
        CAPTURE(row.text("case"));
        PlainJet jet;
        jet.tip = Millimetres{row.number("tip_mm")};
        jet.air_m_per_s = row.number("air_m_per_s");
        jet.viscosity_mPa_s = row.number("viscosity_mPa_s");
        jet.air_over_liquid = row.number("air_over_liquid");
        CHECK(plain_jet_sauter(jet).value == printed(row.number("sauter_um"), 0.5));
    }
}

TEST_CASE("more air makes finer droplets, thicker liquid and wider tips coarser ones", "[spray][property]") {
    const PlainJet base;
    const double size = plain_jet_sauter(base).value;
    PlainJet jet = base;
    jet.air_m_per_s *= 1.2;
    CHECK(plain_jet_sauter(jet).value < size);
    jet = base;
    jet.air_over_liquid *= 1.2;
    CHECK(plain_jet_sauter(jet).value < size);
    jet = base;
    jet.viscosity_mPa_s *= 1.2;
    CHECK(plain_jet_sauter(jet).value > size);
    jet = base;
    jet.tip = 1.2 * jet.tip;
    CHECK(plain_jet_sauter(jet).value > size);
}

TEST_CASE("Rosin-Rammler sizes have the means of their table", "[spray][published_rows]") {
    for (const auto& row : published_rows("rosin_rammler.csv")) {
        const double q = row.number("q");
        CAPTURE(q);
        const DropletSizes sizes(Micrometres{30}, q);
        CHECK(30 / sizes.scale().value == printed(row.number("sauter_over_x"), 5.1e-5));
        CHECK(sizes.mass_median().value / 30 == printed(row.number("median_over_sauter"), 5.1e-4));
        CHECK(sizes.relative_span() == printed(row.number("span"), 5.1e-4));
        CHECK(sizes.mass_below(sizes.mass_median()).value == Approx(0.5).epsilon(1e-12));
        CHECK(sizes.mass_below(sizes.quantile(Share{0.07})).value == Approx(0.07).epsilon(1e-12));
        CHECK(sizes.mass_below(Micrometres{0}).value == 0);
    }
}

TEST_CASE("the Sauter mean has the ratio of volume to surface of the spray", "[spray]") {
    // 1/SMD is the mass-weighted mean of 1/d: summed over equal slices of mass, finest slices included.
    const DropletSizes sizes(Micrometres{25}, 3);
    constexpr int slices = 1000000;
    double inverse = 0;
    for (int i = 0; i < slices; ++i) inverse += 1 / sizes.quantile(Share{(i + 0.5) / slices}).value / slices;
    CHECK(1 / inverse == Approx(25).epsilon(1e-4));
}

TEST_CASE("fine droplets are carried off, more of them with distance", "[spray][published_rows]") {
    for (const auto& row : published_rows("impaction.csv")) {
        const AirJet jet{Millimetres{row.number("exit_mm")}, 250};
        const Millimetres distance{row.number("distance_mm")};
        CAPTURE(row.text("exit_mm"), distance.value);
        const DropletSizes sizes(Micrometres{row.number("sauter_um")}, 2.5);
        CHECK(cut_diameter(jet, distance, kWater).value == printed(row.number("half_um"), 0.051));
        CHECK(impaction(jet, distance, kWater, sizes).value == printed(row.number("landing"), 5.1e-4));
    }
}

TEST_CASE("a free jet is never faster than at its exit", "[spray]") {
    const AirJet jet{Millimetres{3}, 250};
    CHECK(centreline_m_per_s(jet, Millimetres{1}) == 250);
    CHECK(centreline_m_per_s(jet, Millimetres{150}) == printed(31, 0.5));
}

TEST_CASE("spread on impact agrees with the table", "[spray][published_rows]") {
    for (const auto& row : published_rows("impact_spread.csv")) {
        Impact impact;
        impact.droplet = Micrometres{row.number("droplet_um")};
        impact.m_per_s = row.number("m_per_s");
        impact.viscosity_mPa_s = row.number("viscosity_mPa_s");
        CAPTURE(impact.droplet.value, impact.m_per_s);
        CHECK(impact_spread(impact) == printed(row.number("spread"), 0.0051));
    }
}

TEST_CASE("droplets at equilibrium are caps of their own volume", "[spray][published_rows]") {
    // Derived from the volume of a spherical cap, printed to 3 places.
    const double angles[] = {90, 60, 45, 30, 20, 10};
    const double spreads[] = {1.260, 1.608, 1.826, 2.134, 2.464, 3.121};
    for (int i = 0; i < 6; ++i) CHECK(equilibrium_spread(Degrees{angles[i]}) == printed(spreads[i], 5.1e-4));
}

TEST_CASE("a splat has the larger spread of impact and wetting", "[spray]") {
    const Impact fast{Micrometres{50}, 30, 20, 30, kWater};
    const Impact slow{Micrometres{20}, 1, 50, 30, kWater};
    CHECK(splat_spread(fast, Degrees{60}) == impact_spread(fast));
    CHECK(splat_spread(fast, Degrees{10}) == equilibrium_spread(Degrees{10}));
    CHECK(impact_spread(slow) < 1.2);
    CHECK(splat_spread(slow, Degrees{90}) == equilibrium_spread(Degrees{90}));
}

TEST_CASE("covered ground follows from the mean number of splats", "[spray][published_rows]") {
    // 1 - exp(-m), printed to 4 places (the last to 2).
    const double m[] = {0.1, 0.25, 0.5, 1, 2, 3};
    const double c[] = {0.0952, 0.2212, 0.3935, 0.6321, 0.8647, 0.9502};
    for (int i = 0; i < 6; ++i) {
        const Micrometres film{m[i] * 2 * 30 / (3 * 4)};
        CHECK(mean_coverage(film, Micrometres{30}, 2) == Approx(m[i]).epsilon(1e-14));
        CHECK(covered_share(film, Micrometres{30}, 2).value == printed(c[i], 5e-5));
    }
    CHECK(covered_share(Micrometres{4.605 * 5}, Micrometres{30}, 2).value == printed(0.99, 5e-5));
    // A published Monte-Carlo case: SMD 26.46 um, spread 2, 1 um wet.
    CHECK(mean_coverage(Micrometres{1}, Micrometres{26.46}, 2) == printed(0.2267, 1e-4));
    CHECK(covered_share(Micrometres{1}, Micrometres{26.46}, 2).value == printed(0.2029, 1e-4));
}

TEST_CASE("mean coverage and wet splat thickness are consistent", "[spray]") {
    Gun gun;
    gun.droplet = Micrometres{26};
    gun.splat_spread = 1.8;
    CHECK(mean_coverage(Micrometres{7}, gun.droplet, gun.splat_spread) ==
          Approx(Micrometres{7} / wet_splat(gun)).epsilon(1e-14));
}

TEST_CASE("droplets of many sizes cover like their Sauter mean", "[spray]") {
    // Droplets of Rosin-Rammler mass fall at random; a splat covers a point with the probability of its
    // area over that of the field. The bare share is the product of all misses.
    constexpr double field_um2 = 4e6, spread = 2, film_um = 3;
    const DropletSizes sizes(Micrometres{25}, 3.5);
    double volume_um3 = 0, bare_log = 0;
    for (std::uint64_t i = 0; volume_um3 < field_um2 * film_um; ++i) {
        // Drawn by mass: each stands for the same volume, shared among as many droplets as fit in it.
        const double d = sizes.quantile(Share{uniform01(11, 0, i)}).value;
        constexpr double slice_um3 = 100;
        const double many = slice_um3 / (std::numbers::pi / 6 * d * d * d);
        bare_log += many * std::log1p(-std::numbers::pi / 4 * d * d * spread * spread / field_um2);
        volume_um3 += slice_um3;
    }
    CHECK(1 - std::exp(bare_log) ==
          Approx(covered_share(Micrometres{film_um}, Micrometres{25}, spread).value).epsilon(0.005));
}
