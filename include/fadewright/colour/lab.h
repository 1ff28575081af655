// Colours: tristimulus values, CIELAB and OKLab.
//
//     XYZ    Y = 100 for the perfect white
//     Lab    L* = 116 f(Y/Yn) - 16,  a* = 500 (f(X/Xn) - f(Y/Yn)),  b* = 200 (f(Y/Yn) - f(Z/Zn))
//            f(t) = cube root, linear near black
//     LCh    C = hypot(a*, b*), h in degrees from 0 to 360, 0 along +a*
//     OKLab  cube roots of cone-like responses of D65 XYZ; hue and lightness stay constant when chroma is
//     reduced
//
// Source: [iso11664-4] (Lab), [ottosson2020] (OKLab).
// Holds for  any finite XYZ; Lab is relative to the given white. Negative XYZ use the linear
//            part.
// Accuracy   each conversion and its inverse agree to 1e-11
// Checks     tests/colour/lab_test.cpp
#pragma once

namespace fadewright::colour {

struct XYZ {
    double X = 0, Y = 0, Z = 0;
    friend bool operator==(const XYZ&, const XYZ&) = default;
};

struct Lab {
    double L = 0, a = 0, b = 0;
    friend bool operator==(const Lab&, const Lab&) = default;
};

struct LCh {
    double L = 0, C = 0, h = 0;
};

struct OKLab {
    double L = 0, a = 0, b = 0;  // L is 1 for D65 white
};

[[nodiscard]] Lab to_lab(const XYZ& xyz, const XYZ& white) noexcept;
[[nodiscard]] XYZ to_xyz(const Lab& lab, const XYZ& white) noexcept;

[[nodiscard]] LCh to_lch(const Lab& lab) noexcept;
[[nodiscard]] Lab to_lab(const LCh& lch) noexcept;

// xyz under D65 (2 degrees), Y = 100 for white.
[[nodiscard]] OKLab to_oklab(const XYZ& xyz) noexcept;
[[nodiscard]] XYZ to_xyz(const OKLab& oklab) noexcept;

// The colours of one OKLab lightness and hue, by their share of a chroma: XYZ is a cubic polynomial of it.
struct ChromaLine {
    XYZ c0, c1, c2, c3;
    [[nodiscard]] XYZ at(double share) const noexcept {
        const auto cubic = [share](double a, double b, double c, double d) {
            return a + share * (b + share * (c + share * d));
        };
        return {cubic(c0.X, c1.X, c2.X, c3.X), cubic(c0.Y, c1.Y, c2.Y, c3.Y), cubic(c0.Z, c1.Z, c2.Z, c3.Z)};
    }
};
// at(1) is the colour itself.
[[nodiscard]] ChromaLine chroma_line(const OKLab& oklab) noexcept;

// Euclidean distance in Lab (ΔE*ab). Source: [iso11664-4].
[[nodiscard]] double delta_e_76(const Lab& a, const Lab& b) noexcept;

// Least chroma at which a hue angle means something; starting values, uncalibrated. For one predicted mid
// colour the lower one is enough. Along a fade the largest shift of all samples counts, noise included, so
// hue must be surer there.
inline constexpr double kMinMidColourChroma = 4.0;
inline constexpr double kMinFadeChroma = 5.0;

// Flop index: how much a metallic or pearl darkens from near-specular to far aspecular angles.
//
//     FI = 2.69 (L15 - L110)^1.11 / L45^0.86
//
// L15, L45, L110 are the lightness (L*), lit at 45 degrees, at the aspecular angles 15, 45 and 110 degrees. A
// solid colour has 0, a strong metallic about 15. L15 above 100 is valid: brighter there than a white sheet.
//
// Source: [alman1987].
// Holds for  L45 above 0; 0 for a colour that gets lighter away from the specular direction, or with L45 = 0
// Checks     tests/colour/flop_test.cpp, tests/published/flop_index.csv

[[nodiscard]] double flop_index(double L15, double L45, double L110) noexcept;

}  // namespace fadewright::colour
