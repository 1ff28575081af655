// Output profiles: from what the eye sees to the values of a screen or printer.
//
// A colour seen in any light is first adapted to the profile's white (Bradford, relative colorimetric): the
// eye takes the light's white for white, so a panel in lamplight is shown as one who has adapted to the lamp
// sees it. Colours the profile cannot hold lose chroma at constant hue and lightness (colour/gamut.h) and are
// reported as outside. sRGB is built in and goes by matrix and curve; any other ICC RGB profile goes through
// Little CMS in its relative colorimetric intent.
//
// Source: [icc1] (profiles, D50 connection space; annex E for Bradford adaptation).
// Holds for  RGB profiles with a way from colours to values; black is not scaled to the device's black
// Accuracy   the direct sRGB road agrees with Little CMS to half an 8-bit step
// Checks     tests/colour/profile_test.cpp
#pragma once

#include "fadewright/base/result.h"
#include "fadewright/colour/lab.h"
#include "fadewright/kernels/lab_fast.h"

#include <memory>
#include <span>
#include <string>

namespace fadewright::colour {

// Encoded values or light, 0 to 1.
struct DeviceRgb {
    float r = 0, g = 0, b = 0;
    bool out_of_gamut = false;
};

class OutputProfile {
public:
    [[nodiscard]] static OutputProfile srgb();
    [[nodiscard]] static OutputProfile display_p3();  // of screens with a wide gamut (CSS Color 4)
    // Refuses anything but an RGB profile for a screen, a printer or a colour space.
    [[nodiscard]] static Result<OutputProfile> from_icc(std::string bytes, const std::string& name);

    OutputProfile(OutputProfile&&) noexcept;
    OutputProfile& operator=(OutputProfile&&) noexcept;
    ~OutputProfile();

    [[nodiscard]] const std::string& name() const noexcept;
    [[nodiscard]] const std::string& icc_bytes() const noexcept;  // the same every time

    // seen.size() == out.size(); white is the light's. May be called from many threads at once.
    void to_device(std::span<const XYZ> colours, const XYZ& white, std::span<DeviceRgb> out) const;

    // The same before encoding: values decoded by the curve of sRGB, whatever the profile's own, so that they follow
    // the light and may be interpolated and dimmed. kernels::encode_srgb() turns them into to_device()'s.
    void to_linear(std::span<const XYZ> colours, const XYZ& white, std::span<DeviceRgb> out) const;

    // The colour that encoded values stand for, relative to the profile's white (adapted to D65).
    [[nodiscard]] Lab lab_of(const DeviceRgb& device) const;
    // Of many colours in light, as many of r, g and b; of sRGB within 1e-3, of others as exactly as lab_of().
    [[nodiscard]] kernels::LabPlanes linear_to_lab(std::span<const float> r, std::span<const float> g,
                                                   std::span<const float> b) const;

private:
    struct Impl;
    explicit OutputProfile(std::unique_ptr<Impl> impl);
    std::unique_ptr<Impl> impl_;
};

// XYZ as it would look with another white (Bradford).
[[nodiscard]] XYZ adapt_to_white(const XYZ& xyz, const XYZ& from_white, const XYZ& to_white) noexcept;

}  // namespace fadewright::colour
