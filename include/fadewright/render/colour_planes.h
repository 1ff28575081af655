// Colours of pixels before they are encoded: one colour, and many colours plane by plane.
#pragma once

#include <cstddef>
#include <vector>

namespace fadewright::render {

// The values that are interpolated: linear RGB of the output profile, 0 to 1 (OutputProfile::to_linear).
struct DeviceColour {
    float r = 0, g = 0, b = 0;
    float out_of_gamut = 0;  // 1 where the colour is outside the profile's gamut
    float grain = 0;         // standard deviation of the logarithm of the pixel's luminance
};

struct ColourPlanes {
    std::vector<float> r, g, b, out_of_gamut, grain;

    [[nodiscard]] std::size_t size() const noexcept { return r.size(); }
    void assign(std::size_t count, const DeviceColour& colour) {
        r.assign(count, colour.r);
        g.assign(count, colour.g);
        b.assign(count, colour.b);
        out_of_gamut.assign(count, colour.out_of_gamut);
        grain.assign(count, colour.grain);
    }
    void resize(std::size_t count) {
        for (std::vector<float>* plane : {&r, &g, &b, &out_of_gamut, &grain}) plane->resize(count);
    }
    void set(std::size_t i, const DeviceColour& colour) {
        r[i] = colour.r;
        g[i] = colour.g;
        b[i] = colour.b;
        out_of_gamut[i] = colour.out_of_gamut;
        grain[i] = colour.grain;
    }
    [[nodiscard]] DeviceColour at(std::size_t i) const {
        return {r[i], g[i], b[i], out_of_gamut[i], grain[i]};
    }
};

}  // namespace fadewright::render
