#include "fadewright/colour/lab.h"

#include "published_table.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace fadewright::colour;
using Catch::Matchers::WithinAbs;

namespace {

const XYZ kD65{95.047, 100, 108.883};  // published white [astmE308]

void check_near(const XYZ& a, const XYZ& b, double tolerance) {
    CHECK_THAT(a.X, WithinAbs(b.X, tolerance));
    CHECK_THAT(a.Y, WithinAbs(b.Y, tolerance));
    CHECK_THAT(a.Z, WithinAbs(b.Z, tolerance));
}

}  // namespace

TEST_CASE("Lab agrees with published values under D65", "[colour][published]") {
    for (const auto& row : fadewright::test::published_rows("lab_d65.csv")) {
        const Lab lab = to_lab({row.number("X"), row.number("Y"), row.number("Z")}, kD65);
        CAPTURE(row.text("X"));
        CHECK_THAT(lab.L, WithinAbs(row.number("L"), 5e-5));  // printed to four places
        CHECK_THAT(lab.a, WithinAbs(row.number("a"), 5e-5));
        CHECK_THAT(lab.b, WithinAbs(row.number("b"), 5e-5));
    }
}

TEST_CASE("white is L* 100 without chroma, and no light is black", "[colour]") {
    CHECK(to_lab(kD65, kD65) == Lab{100, 0, 0});
    const Lab black = to_lab(XYZ{}, kD65);
    CHECK_THAT(black.L, WithinAbs(0, 1e-13));
    CHECK(black.a == 0);
    CHECK(black.b == 0);
}

TEST_CASE("a reflectance of 0.184 is a mid grey", "[colour]") {
    // L* = 116 (0.184187)^(1/3) - 16 = 50, by the formula.
    const double Y = 100 * std::pow(66.0 / 116, 3);
    CHECK_THAT(to_lab({kD65.X * Y / 100, Y, kD65.Z * Y / 100}, kD65).L, WithinAbs(50, 1e-12));
}

TEST_CASE("Lab and XYZ are inverses, near black and for negative values too", "[colour]") {
    for (double X : {-0.2, 0.0, 0.3, 0.9, 20.0, 95.0, 120.0})
        for (double Y : {0.0, 0.5, 0.88, 0.89, 50.0, 100.0})
            for (double Z : {0.0, 0.2, 1.0, 60.0, 130.0})
                check_near(to_xyz(to_lab(XYZ{X, Y, Z}, kD65), kD65), {X, Y, Z}, 1e-11);
}

TEST_CASE("Lab has no step where its linear part meets the cube root", "[colour]") {
    const double threshold = 100 * 216.0 / 24389;
    const double below = to_lab({0, threshold * (1 - 1e-9), 0}, kD65).L;
    const double above = to_lab({0, threshold * (1 + 1e-9), 0}, kD65).L;
    CHECK_THAT(below, WithinAbs(8, 1e-7));
    CHECK_THAT(above, WithinAbs(8, 1e-7));
}

TEST_CASE("hue runs from 0 along +a* through 90 along +b*", "[colour]") {
    CHECK_THAT(to_lch(Lab{50, 10, 0}).h, WithinAbs(0, 1e-12));
    CHECK_THAT(to_lch(Lab{50, 0, 10}).h, WithinAbs(90, 1e-12));
    CHECK_THAT(to_lch(Lab{50, -10, 0}).h, WithinAbs(180, 1e-12));
    CHECK_THAT(to_lch(Lab{50, 0, -10}).h, WithinAbs(270, 1e-12));
    CHECK_THAT(to_lch(Lab{50, 3, -4}).C, WithinAbs(5, 1e-12));
    const Lab back = to_lab(to_lch(Lab{50, 3, -4}));
    CHECK_THAT(back.a, WithinAbs(3, 1e-12));
    CHECK_THAT(back.b, WithinAbs(-4, 1e-12));
}

TEST_CASE("OKLab agrees with its published examples", "[colour][published]") {
    for (const auto& row : fadewright::test::published_rows("oklab_xyz.csv")) {
        const OKLab ok = to_oklab({100 * row.number("X"), 100 * row.number("Y"), 100 * row.number("Z")});
        CAPTURE(row.text("X"), row.text("Y"), row.text("Z"));
        CHECK_THAT(ok.L, WithinAbs(row.number("L"), 5e-4));  // printed to three places
        CHECK_THAT(ok.a, WithinAbs(row.number("a"), 5e-4));
        CHECK_THAT(ok.b, WithinAbs(row.number("b"), 5e-4));
    }
}

TEST_CASE("OKLab and XYZ are inverses", "[colour]") {
    for (const XYZ& xyz : {XYZ{}, XYZ{95, 100, 109}, XYZ{20, 10, 3}, XYZ{-1, 2, 90}})
        check_near(to_xyz(to_oklab(xyz)), xyz, 1e-11);
}

TEST_CASE("the distance in Lab is Euclidean", "[colour]") {
    CHECK_THAT(delta_e_76({50, 0, 0}, {52, 3, -6}), WithinAbs(7, 1e-12));
}

TEST_CASE("a line of chroma has the colours of OKLab", "[colour]") {
    for (const double L : {0.0, 0.2, 0.63, 1.0})
        for (const double a : {-0.3, 0.0, 0.17})
            for (const double b : {-0.25, 0.02, 0.3}) {
                const ChromaLine line = chroma_line({L, a, b});
                for (const double share : {0.0, 0.37, 1.0}) {
                    const XYZ on_line = line.at(share), plain = to_xyz(OKLab{L, share * a, share * b});
                    CAPTURE(L, a, b, share);
                    CHECK_THAT(on_line.X, WithinAbs(plain.X, 1e-11));
                    CHECK_THAT(on_line.Y, WithinAbs(plain.Y, 1e-11));
                    CHECK_THAT(on_line.Z, WithinAbs(plain.Z, 1e-11));
                }
            }
}
