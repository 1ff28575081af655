// Gamut mapping: colours that a screen or printer cannot show lose chroma and keep hue and lightness.
//
// OKLab hue and lightness are kept and chroma is reduced until the colour fits (bisection). Lightness beyond
// the device's white or black becomes white or black. Channels are never clipped one by one, which would
// change the hue.
//
// Source: [ottosson2020] (OKLab); the bisection is our own derivation.
// Holds for  XYZ under D65 and any device that can show the greys between its black and its white
// Accuracy   chroma to 1/4000 of the requested chroma; for sRGB hue within 0.1 degrees and lightness
//            within 0.001 in OKLab (tests/colour/gamut_test.cpp)
// Checks     tests/colour/gamut_test.cpp, tests/colour/profile_test.cpp
#pragma once

#include "fadewright/colour/lab.h"
#include "fadewright/colour/srgb.h"

#include <algorithm>

namespace fadewright::colour {

// Tolerance, so that a colour on the gamut boundary is not reported as outside.
inline constexpr double kGamutTolerance = 1e-6;

// The result of trying a colour on a device.
struct GamutQuery {
    Rgb values;             // the nearest values of the device; linear or encoded, as the device needs
    bool in_gamut = false;  // the values are the requested colour
};

struct MappedColour {
    Rgb values;
    bool out_of_gamut = false;  // the requested colour did not fit
};

[[nodiscard]] inline bool is_in_unit_cube(const Rgb& rgb) noexcept {
    const auto [low, high] = std::minmax({rgb.r, rgb.g, rgb.b});
    return low >= -kGamutTolerance && high <= 1 + kGamutTolerance;
}

// on_device(XYZ) -> GamutQuery.
template <class OnDevice>
[[nodiscard]] MappedColour map_into_gamut(const XYZ& xyz, const OnDevice& on_device) {
    const GamutQuery query = on_device(xyz);
    if (query.in_gamut) return {query.values, false};
    const OKLab target = to_oklab(xyz);
    const ChromaLine line = chroma_line({std::clamp(target.L, 0.0, 1.0), target.a, target.b});
    const auto with_chroma = [&](double share) { return on_device(line.at(share)); };
    constexpr int kBisections = 12;
    double low_share = 0, high_share = 1;
    for (int step = 0; step < kBisections; ++step) {
        const double mid = (low_share + high_share) / 2;
        (with_chroma(mid).in_gamut ? low_share : high_share) = mid;
    }
    return {with_chroma(low_share).values, true};
}

}  // namespace fadewright::colour
