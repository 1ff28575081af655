// Output profiles: from colours to the values of a screen or printer.
//
// A colour under any light is first adapted to the profile's white (Bradford, relative colorimetric): a panel
// under warm bulbs is shown as an eye adapted to them sees it. Colours outside the profile's gamut lose
// chroma at constant hue and lightness (colour/gamut.h) and are reported. sRGB is built in (matrix and
// curve); any other ICC RGB profile is evaluated by Little CMS with the relative colorimetric intent.
//
// Source: [icc1] (profiles, D50 connection space; annex E for Bradford adaptation).
// Holds for  RGB profiles with a transform from colours to values; no black point compensation
// Accuracy   the built-in sRGB agrees with Little CMS to half an 8-bit step
// Checks     tests/colour/profile_test.cpp
#pragma once

#include "fadewright/base/result.h"
#include "fadewright/colour/lab.h"
#include "fadewright/kernels/lab_fast.h"

#include <memory>
#include <span>
#include <string>

namespace fadewright::colour {

// Encoded values or linear light, 0 to 1.
struct DeviceRgb {
    float r = 0, g = 0, b = 0;
    bool out_of_gamut = false;
};

class OutputProfile {
public:
    [[nodiscard]] static OutputProfile srgb();
    [[nodiscard]] static OutputProfile display_p3();  // of screens with a wide gamut (CSS Color 4)
    // Only RGB profiles of a screen, a printer or a colour space are accepted.
    [[nodiscard]] static Result<OutputProfile> from_icc(std::string bytes, const std::string& name);

    OutputProfile(OutputProfile&&) noexcept;
    OutputProfile& operator=(OutputProfile&&) noexcept;
    ~OutputProfile();

    [[nodiscard]] const std::string& name() const noexcept;
    [[nodiscard]] const std::string& icc_bytes() const noexcept;  // identical in every run

    // Both spans have the same size; white is that of the light. Thread-safe.
    void to_device(std::span<const XYZ> colours, const XYZ& white, std::span<DeviceRgb> out) const;

    // The values before encoding: decoded by the sRGB curve, whatever the profile's own curve, so that they
    // are linear in light and may be interpolated and scaled. kernels::encode_srgb() turns them into the
    // values of to_device().
    void to_linear(std::span<const XYZ> colours, const XYZ& white, std::span<DeviceRgb> out) const;

    // The colour of encoded values, relative to the profile's white (adapted to D65).
    [[nodiscard]] Lab lab_of(const DeviceRgb& device) const;
    // Of many linear colours; r, g and b have the same length. For sRGB within 1e-3, for others as exact as
    // lab_of().
    [[nodiscard]] kernels::LabPlanes linear_to_lab(std::span<const float> r, std::span<const float> g,
                                                   std::span<const float> b) const;

private:
    struct Impl;
    explicit OutputProfile(std::unique_ptr<Impl> impl);
    std::unique_ptr<Impl> impl_;
};

// XYZ adapted to another white (Bradford).
[[nodiscard]] XYZ adapt_to_white(const XYZ& xyz, const XYZ& from_white, const XYZ& to_white) noexcept;

}  // namespace fadewright::colour
