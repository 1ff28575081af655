#include "fadewright/colour/srgb.h"

#include "fadewright/colour/gamut.h"
#include "fadewright/colour/illuminant.h"
#include "matrix3.h"

#include <algorithm>
#include <cmath>

namespace fadewright::colour {
namespace {

struct Chromaticity {
    double x, y;
};

constexpr Vector xyz_of(Chromaticity c) { return {c.x / c.y, 1, (1 - c.x - c.y) / c.y}; }

constexpr Chromaticity kRed{0.64, 0.33}, kGreen{0.30, 0.60}, kBlue{0.15, 0.06};

// Linear sRGB to XYZ (white at Y = 1): the columns are the primaries, scaled so that they add up to white.
constexpr Matrix to_xyz_matrix(const Vector& white) {
    const Vector r = xyz_of(kRed), g = xyz_of(kGreen), b = xyz_of(kBlue);
    const Matrix primaries{{Vector{r[0], g[0], b[0]}, Vector{r[1], g[1], b[1]}, Vector{r[2], g[2], b[2]}}};
    return primaries * diagonal(inverse(primaries) * white);
}

Vector unit(const XYZ& white) { return {white.X / white.Y, 1, white.Z / white.Y}; }

}  // namespace

const XYZ& d65_white() {
    static const XYZ white =
        tristimulus_weights(standard_illuminant(StandardIlluminant::D65), Observer::two_degree).white;
    return white;
}

Rgb to_linear_srgb(const XYZ& xyz, const XYZ& white) noexcept {
    const Vector rgb =
        inverse(to_xyz_matrix(unit(white))) * Vector{xyz.X / white.Y, xyz.Y / white.Y, xyz.Z / white.Y};
    return {rgb[0], rgb[1], rgb[2]};
}

XYZ from_linear_srgb(const Rgb& linear, const XYZ& white) noexcept {
    const Vector xyz = to_xyz_matrix(unit(white)) * Vector{linear.r, linear.g, linear.b};
    return {xyz[0] * white.Y, xyz[1] * white.Y, xyz[2] * white.Y};
}

double srgb_from_linear(double linear) noexcept {
    if (linear < 0) return -srgb_from_linear(-linear);
    return linear <= 0.0031308 ? 12.92 * linear : 1.055 * std::pow(linear, 1 / 2.4) - 0.055;
}

double linear_from_srgb(double encoded) noexcept {
    if (encoded < 0) return -linear_from_srgb(-encoded);
    return encoded <= 0.04045 ? encoded / 12.92 : std::pow((encoded + 0.055) / 1.055, 2.4);
}

std::array<std::uint8_t, 3> srgb_bytes(const Lab& lab) {
    const XYZ& white = d65_white();
    const MappedColour mapped = map_into_gamut(to_xyz(lab, white), [&](const XYZ& xyz) {
        const Rgb linear = to_linear_srgb(xyz, white);
        return GamutQuery{linear, is_in_unit_cube(linear)};
    });
    const auto byte = [](double v) {
        return static_cast<std::uint8_t>(std::lround(255 * std::clamp(srgb_from_linear(v), 0.0, 1.0)));
    };
    return {byte(mapped.values.r), byte(mapped.values.g), byte(mapped.values.b)};
}

Lab lab_of_srgb(const std::array<std::uint8_t, 3>& bytes) {
    const auto linear = [](std::uint8_t v) { return linear_from_srgb(v / 255.0); };
    const XYZ& white = d65_white();
    return to_lab(from_linear_srgb({linear(bytes[0]), linear(bytes[1]), linear(bytes[2])}, white), white);
}

}  // namespace fadewright::colour
