// The colours of pixels on their way into a picture: one, and many part by part.
#pragma once

#include <cstddef>
#include <vector>

namespace fadewright::render {

// What is interpolated: the light of the output profile, 0 to 1 (OutputProfile::to_light).
struct DeviceColour {
    float r = 0, g = 0, b = 0;
    float outside = 0;  // 1 where the profile could not hold the colour
    float grain = 0;    // deviation of the logarithm of a pixel's luminance
};

struct ColourPlanes {
    std::vector<float> r, g, b, outside, grain;

    [[nodiscard]] std::size_t size() const noexcept { return r.size(); }
    void assign(std::size_t count, const DeviceColour& colour) {
        r.assign(count, colour.r);
        g.assign(count, colour.g);
        b.assign(count, colour.b);
        outside.assign(count, colour.outside);
        grain.assign(count, colour.grain);
    }
    void resize(std::size_t count) {
        for (std::vector<float>* plane : {&r, &g, &b, &outside, &grain}) plane->resize(count);
    }
    void put(std::size_t i, const DeviceColour& colour) {
        r[i] = colour.r;
        g[i] = colour.g;
        b[i] = colour.b;
        outside[i] = colour.outside;
        grain[i] = colour.grain;
    }
    [[nodiscard]] DeviceColour at(std::size_t i) const { return {r[i], g[i], b[i], outside[i], grain[i]}; }
};

}  // namespace fadewright::render
