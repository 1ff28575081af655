#include "fadewright/colour/gamut.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

using namespace fadewright::colour;

namespace {

constexpr double kDegrees = 180 / std::numbers::pi;

GamutQuery query_srgb(const XYZ& xyz) {
    const Rgb linear = to_linear_srgb(xyz, d65_white());
    return {linear, is_in_unit_cube(linear)};
}

OKLab displayed_oklab(const MappedColour& mapped) {
    const auto value = [](double v) { return std::clamp(v, 0.0, 1.0); };
    return to_oklab(from_linear_srgb({value(mapped.values.r), value(mapped.values.g), value(mapped.values.b)},
                                     d65_white()));
}

double chroma(const OKLab& ok) { return std::hypot(ok.a, ok.b); }

double hue_deg(const OKLab& ok) { return std::atan2(ok.b, ok.a) * kDegrees; }

}  // namespace

TEST_CASE("colours inside the gamut are unchanged", "[colour]") {
    for (const Rgb& rgb : {Rgb{0, 0, 0}, Rgb{1, 1, 1}, Rgb{1, 0, 0}, Rgb{0.2, 0.5, 0.9}}) {
        const MappedColour mapped = map_into_gamut(from_linear_srgb(rgb, d65_white()), query_srgb);
        CHECK_FALSE(mapped.out_of_gamut);
        CHECK(std::abs(mapped.values.r - rgb.r) < 1e-12);
        CHECK(std::abs(mapped.values.g - rgb.g) < 1e-12);
        CHECK(std::abs(mapped.values.b - rgb.b) < 1e-12);
    }
}

TEST_CASE("a colour outside keeps hue and lightness and loses as little chroma as possible", "[colour]") {
    int outside = 0;
    for (double L = 0.15; L < 0.96; L += 0.1)
        for (double h = 0; h < 360; h += 7.5) {
            const OKLab target{L, 0.4 * std::cos(h / kDegrees), 0.4 * std::sin(h / kDegrees)};
            const MappedColour mapped = map_into_gamut(to_xyz(target), query_srgb);
            CAPTURE(L, h);
            CHECK(is_in_unit_cube(mapped.values));
            const OKLab result = displayed_oklab(mapped);
            if (!mapped.out_of_gamut) continue;
            ++outside;
            CHECK(std::abs(result.L - L) < 1e-3);
            CHECK(std::abs(std::remainder(hue_deg(result) - h, 360.0)) < 0.1);
            // A little more chroma does not fit: the mapping stops at the gamut boundary, within 1/4000.
            const double at = chroma(to_oklab(from_linear_srgb(mapped.values, d65_white())));
            const double more = (at + 0.4 / 2000) / 0.4;
            CHECK_FALSE(query_srgb(to_xyz(OKLab{L, more * target.a, more * target.b})).in_gamut);
        }
    CHECK(outside > 400);  // hardly any of these 432 can be shown
}

TEST_CASE("brighter than white becomes white, darker than black becomes black", "[colour]") {
    const auto near = [](const Rgb& rgb, double v) {
        return std::abs(rgb.r - v) < 1e-3 && std::abs(rgb.g - v) < 1e-3 && std::abs(rgb.b - v) < 1e-3;
    };
    const MappedColour bright = map_into_gamut({120, 130, 140}, query_srgb);
    CHECK(bright.out_of_gamut);
    CHECK(near(bright.values, 1));
    const MappedColour dark = map_into_gamut({-2, -2, -2}, query_srgb);
    CHECK(dark.out_of_gamut);
    CHECK(near(dark.values, 0));
}

TEST_CASE("the gamut boundary counts as inside", "[colour]") {
    CHECK(is_in_unit_cube({1 + kGamutTolerance / 2, 0, -kGamutTolerance / 2}));
    CHECK_FALSE(is_in_unit_cube({1 + 2 * kGamutTolerance, 0, 0}));
    CHECK_FALSE(is_in_unit_cube({0, -2 * kGamutTolerance, 0}));
}
