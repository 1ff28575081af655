#include "fadewright/colour/lab.h"

#include "matrix3.h"

#include <bit>
#include <cmath>
#include <cstdint>
#include <numbers>

namespace fadewright::colour {
namespace {

constexpr double kDelta = 6.0 / 29;

// Cube root of a positive number, to two units in the last place; several times as fast as the library
// function for all numbers. A third of the exponent's bits is 4 % off; a Halley step cubes the error, a
// Newton step squares it.
double cube_root(double t) noexcept {
    double y = std::bit_cast<double>(std::bit_cast<std::uint64_t>(t) / 3 + (std::uint64_t{715094163} << 32));
    for (int i = 0; i < 2; ++i) {
        const double cube = y * y * y;
        y *= (cube + 2 * t) / (2 * cube + t);
    }
    return y - (y * y * y - t) / (3 * y * y);
}

double f(double t) noexcept {
    return t > kDelta * kDelta * kDelta ? cube_root(t) : t / (3 * kDelta * kDelta) + 4.0 / 29;
}

double f_inverse(double v) noexcept { return v > kDelta ? v * v * v : 3 * kDelta * kDelta * (v - 4.0 / 29); }

// XYZ to cone-like responses, and their cube roots to OKLab. Source: [ottosson2020].
constexpr Matrix kToCones{{Vector{0.8189330101, 0.3618667424, -0.1288597137},
                           Vector{0.0329845436, 0.9293118715, 0.0361456387},
                           Vector{0.0482003018, 0.2643662691, 0.6338517070}}};
constexpr Matrix kToOKLab{{Vector{0.2104542553, 0.7936177850, -0.0040720468},
                           Vector{1.9779984951, -2.4285922050, 0.4505937099},
                           Vector{0.0259040371, 0.7827717662, -0.8086757660}}};
constexpr Matrix kFromCones = inverse(kToCones);
constexpr Matrix kFromOKLab = inverse(kToOKLab);

}  // namespace

Lab to_lab(const XYZ& xyz, const XYZ& white) noexcept {
    const double fx = f(xyz.X / white.X), fy = f(xyz.Y / white.Y), fz = f(xyz.Z / white.Z);
    return {116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)};
}

XYZ to_xyz(const Lab& lab, const XYZ& white) noexcept {
    const double fy = (lab.L + 16) / 116;
    return {white.X * f_inverse(fy + lab.a / 500), white.Y * f_inverse(fy),
            white.Z * f_inverse(fy - lab.b / 200)};
}

LCh to_lch(const Lab& lab) noexcept {
    double h = std::atan2(lab.b, lab.a) * 180 / std::numbers::pi;
    if (h < 0) h += 360;
    return {lab.L, std::hypot(lab.a, lab.b), h};
}

Lab to_lab(const LCh& lch) noexcept {
    const double h = lch.h * std::numbers::pi / 180;
    return {lch.L, lch.C * std::cos(h), lch.C * std::sin(h)};
}

OKLab to_oklab(const XYZ& xyz) noexcept {
    Vector cones = kToCones * Vector{xyz.X / 100, xyz.Y / 100, xyz.Z / 100};
    for (double& c : cones) c = std::cbrt(c);
    const Vector lab = kToOKLab * cones;
    return {lab[0], lab[1], lab[2]};
}

XYZ to_xyz(const OKLab& oklab) noexcept {
    Vector cones = kFromOKLab * Vector{oklab.L, oklab.a, oklab.b};
    for (double& c : cones) c = c * c * c;
    const Vector xyz = kFromCones * cones;
    return {100 * xyz[0], 100 * xyz[1], 100 * xyz[2]};
}

// Cones are cubes of (grey + share x chroma), both by the matrix of OKLab.
ChromaLine chroma_line(const OKLab& oklab) noexcept {
    const Vector grey = kFromOKLab * Vector{oklab.L, 0, 0};
    const Vector chroma = kFromOKLab * Vector{0, oklab.a, oklab.b};
    const auto xyz_of = [&](const auto& term) {
        const Vector v =
            kFromCones * Vector{term(grey[0], chroma[0]), term(grey[1], chroma[1]), term(grey[2], chroma[2])};
        return XYZ{100 * v[0], 100 * v[1], 100 * v[2]};
    };
    return {xyz_of([](double g, double) { return g * g * g; }),
            xyz_of([](double g, double c) { return 3 * g * g * c; }),
            xyz_of([](double g, double c) { return 3 * g * c * c; }),
            xyz_of([](double, double c) { return c * c * c; })};
}

double delta_e_76(const Lab& a, const Lab& b) noexcept {
    return std::sqrt((a.L - b.L) * (a.L - b.L) + (a.a - b.a) * (a.a - b.a) + (a.b - b.b) * (a.b - b.b));
}

// Source: [alman1987].
double flop_index(double L15, double L45, double L110) noexcept {
    constexpr double kScale = 2.69, kFall = 1.11, kBody = 0.86;
    if (!(L15 > L110) || !(L45 > 0)) return 0;
    return kScale * std::pow(L15 - L110, kFall) / std::pow(L45, kBody);
}

}  // namespace fadewright::colour
