// A picture in memory: rows of pixels from the top, channels side by side.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

namespace fadewright {

template <class Sample>
struct Image {
    int width = 0;
    int height = 0;
    int channels = 0;
    std::vector<Sample> samples;

    Image() = default;
    Image(int w, int h, int c)
        : width(w),
          height(h),
          channels(c),
          samples(static_cast<std::size_t>(w) * static_cast<std::size_t>(h) * static_cast<std::size_t>(c)) {}

    [[nodiscard]] Sample* row(int y) { return samples.data() + offset(0, y); }
    [[nodiscard]] const Sample* row(int y) const { return samples.data() + offset(0, y); }
    [[nodiscard]] Sample* pixel(int x, int y) { return samples.data() + offset(x, y); }
    [[nodiscard]] const Sample* pixel(int x, int y) const { return samples.data() + offset(x, y); }

    friend bool operator==(const Image&, const Image&) = default;

private:
    [[nodiscard]] std::size_t offset(int x, int y) const {
        return (static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x)) *
               static_cast<std::size_t>(channels);
    }
};

using Picture = Image<std::uint8_t>;  // 3 or 4 channels, 8 bits, encoded for a profile

}  // namespace fadewright
