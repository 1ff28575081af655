#include "fadewright/film/surface.h"

#include "published_table.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

using namespace fadewright;
using namespace fadewright::film;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

TEST_CASE("the surface correction agrees with the table, both ways", "[film][published]") {
    for (const auto& row : test::published_rows("saunderson.csv")) {
        const SaundersonCorrection surface{row.number("k1"), row.number("k2")};
        const double R = row.number("R_internal");
        CAPTURE(surface.k1, surface.k2, R);
        constexpr double printed = 6e-11;  // the table is printed to 10 places
        CHECK_THAT(external_reflectance(surface, R), WithinAbs(row.number("Rm_SCI"), printed));
        CHECK_THAT(external_reflectance(surface, R, Specular::excluded),
                   WithinAbs(row.number("Rm_SCE"), printed));
        // Near black the surface masks the film, and one unit outside is about 2.6 inside.
        CHECK_THAT(internal_reflectance(surface, row.number("Rm_SCI")), WithinAbs(R, 3 * printed));
        CHECK_THAT(internal_reflectance(surface, row.number("Rm_SCE"), Specular::excluded),
                   WithinAbs(R, 3 * printed));
    }
}

TEST_CASE("Fresnel and its diffuse means agree with quadrature, every row", "[film][published]") {
    for (const auto& row : test::published_rows("fresnel_diffuse.csv")) {
        const RelativeIndex binder{row.number("n")};
        CAPTURE(binder.value);
        constexpr double printed = 6e-11;
        // Below 1.1 the closed form loses digits to cancellation; 1e-9 is still far below any reading.
        const double diffuse = binder.value < 1.1 ? 1e-9 : printed;
        CHECK_THAT(fresnel(binder, Degrees{0}), WithinAbs(row.number("F0"), printed));
        CHECK_THAT(fresnel(binder, Degrees{45}), WithinAbs(row.number("F45"), printed));
        CHECK_THAT(diffuse_from_air(binder), WithinAbs(row.number("ext_diffuse"), diffuse));
        CHECK_THAT(diffuse_from_inside(binder), WithinAbs(row.number("int_diffuse"), diffuse));
    }
}

TEST_CASE("the diffuse mean is the hemisphere integral of Fresnel", "[film]") {
    for (double n : {1.02, 1.33, 1.5, 1.9}) {
        constexpr int steps = 200000;
        double sum = 0;
        for (int i = 0; i < steps; ++i) {
            const double cosine = (i + 0.5) / steps;
            const double angle = std::acos(cosine) * 180 / std::numbers::pi;
            sum += 2 * cosine * fresnel({n}, Degrees{angle}) / steps;
        }
        CAPTURE(n);
        CHECK_THAT(diffuse_from_air({n}), WithinAbs(sum, 1e-8));  // midpoint rule at this many steps
    }
}

TEST_CASE("without a step in index there is no surface reflection", "[film]") {
    for (double index : {1.0, 1.0 + 1e-9, 1.0 + 1e-5, 1.0001}) {
        const SaundersonCorrection surface = surface_at_normal({index});
        CAPTURE(index);
        CHECK_THAT(surface.k1, WithinAbs(0, 1e-8));
        CHECK_THAT(surface.k2,
                   WithinAbs(0, 3 * (index - 1) + 1e-9));  // the mean grows about as twice the step
        CHECK(surface.k2 >= 0);
    }
    CHECK(external_reflectance(kNoSurface, 0.3) == 0.3);
    CHECK(fresnel({1.0}, Degrees{90}) <= 1);
}

TEST_CASE("a binder of 1.5 reflects 4 % outside and 60 % inside", "[film]") {
    const SaundersonCorrection surface = surface_at_normal({});
    CHECK_THAT(surface.k1, WithinAbs(0.04, 1e-15));
    CHECK_THAT(surface.k2, WithinAbs(0.596346, 5e-7));
}

TEST_CASE("45:0 readings follow Fresnel at both angles", "[film]") {
    CHECK_THAT(external_reflectance_45_0({1.5}, 1), WithinAbs(1.003907, 2e-6));
    CHECK_THAT(external_reflectance_45_0({1.5}, 0.5), WithinAbs(0.405231 * 0.5 / (1 - 0.596346 * 0.5), 2e-6));
    CHECK(external_reflectance_45_0({1.5}, 0) == 0);
    CHECK_THAT(fresnel({1.5}, Degrees{8}), WithinAbs(0.0400063, 5e-8));
}

TEST_CASE("a perfect reflector stays perfect below any surface", "[film][property]") {
    for (double index : {1.0, 1.3, 1.5, 1.8, 2.4})
        CHECK_THAT(external_reflectance(surface_at_normal({index}), 1.0), WithinAbs(1.0, 1e-15));
}

TEST_CASE("the surface correction and its inverse cancel", "[film][property]") {
    const SaundersonCorrection surface = surface_at_normal({});
    for (int i = 0; i <= 100; ++i) {
        const double R = i / 100.0;
        CHECK_THAT(internal_reflectance(surface, external_reflectance(surface, R)), WithinAbs(R, 1e-14));
        CHECK_THAT(internal_reflectance(surface, external_reflectance(surface, R, Specular::excluded),
                                        Specular::excluded),
                   WithinAbs(R, 1e-14));
    }
}

TEST_CASE("a reading darker than the surface alone is taken as black", "[film]") {
    const SaundersonCorrection surface = surface_at_normal({});
    CHECK(internal_reflectance(surface, 0.03) == 0);
    CHECK(internal_reflectance(surface, 0.0) == 0);
}

TEST_CASE("light at grazing incidence is totally reflected", "[film]") {
    CHECK_THAT(fresnel({1.5}, Degrees{90}), WithinAbs(1, 1e-12));
    CHECK(fresnel({1.5}, Degrees{60}) > fresnel({1.5}, Degrees{45}));
}
