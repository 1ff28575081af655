// Colours that a screen or printer cannot show: brought in by losing chroma, keeping hue and lightness.
//
// OKLab hue and lightness are held and chroma is shrunk until the colour fits (bisection). Lightness beyond
// the device's white or black ends at white or black. Nothing is clipped channel by channel, which would turn
// the hue.
//
// Source     OKLab as in colour/lab.h; the bisection is our own
// Holds for  XYZ under D65 and any device that can show the greys between its black and its white
// Accuracy   chroma to one part in 4,000 of what was asked; for sRGB hue within 0.1 degrees and lightness
//            within 0.001 in OKLab (tests/colour/gamut_test.cpp)
// Checks     tests/colour/gamut_test.cpp, tests/colour/profile_test.cpp
#pragma once

#include "fadewright/colour/lab.h"
#include "fadewright/colour/srgb.h"

#include <algorithm>

namespace fadewright::colour {

// A hair of room so that a colour on the gamut's very edge is not called outside.
inline constexpr double kGamutRoom = 1e-6;

// A device's answer to a colour.
struct Tried {
    Rgb values;         // nearest the device has; linear or encoded, as the device wants them
    bool fits = false;  // the values stand for the colour asked for
};

struct Mapped {
    Rgb values;
    bool outside = false;  // the colour as asked did not fit
};

[[nodiscard]] inline bool within_unit(const Rgb& rgb) noexcept {
    const auto [low, high] = std::minmax({rgb.r, rgb.g, rgb.b});
    return low >= -kGamutRoom && high <= 1 + kGamutRoom;
}

// on_device(XYZ) -> Tried.
template <class OnDevice>
[[nodiscard]] Mapped mapped_into_gamut(const XYZ& xyz, const OnDevice& on_device) {
    const Tried asked = on_device(xyz);
    if (asked.fits) return {asked.values, false};
    const OKLab wanted = to_oklab(xyz);
    const ChromaLine line = chroma_line({std::clamp(wanted.L, 0.0, 1.0), wanted.a, wanted.b});
    const auto with_chroma = [&](double share) { return on_device(line.at(share)); };
    constexpr int kHalvings = 12;
    double inside = 0, beyond = 1;
    for (int step = 0; step < kHalvings; ++step) {
        const double middle = (inside + beyond) / 2;
        (with_chroma(middle).fits ? inside : beyond) = middle;
    }
    return {with_chroma(inside).values, true};
}

}  // namespace fadewright::colour
