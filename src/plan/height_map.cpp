#include "fadewright/plan/height_map.h"

#define STB_IMAGE_STATIC
#define STB_IMAGE_IMPLEMENTATION
#define STBI_NO_STDIO
#define STBI_ONLY_PNG
#if defined(__GNUC__)
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wunused-function"
#pragma GCC diagnostic ignored "-Wconversion"
#pragma GCC diagnostic ignored "-Wsign-conversion"
#pragma GCC diagnostic ignored "-Wold-style-cast"
#pragma GCC diagnostic ignored "-Wshadow"
#endif
#include <stb/stb_image.h>
#if defined(__GNUC__)
#pragma GCC diagnostic pop
#endif

#include <cstddef>
#include <memory>
#include <vector>

namespace fadewright::plan {
namespace {

constexpr double kWhite = 65535;
constexpr int kGrey = 1;  // channels

struct FreeSamples {
    void operator()(stbi_us* samples) const { stbi_image_free(samples); }
};

}  // namespace

Result<spray::HeightMap> height_map_from_png(const std::string& bytes, const std::string& name,
                                             const geometry::Box& bounds, HeightScale scale) {
    if (bytes.size() > kLargestMap_px * sizeof(stbi_us) * 2)
        return Error{name + " is larger than any height map of 16 million pixels"};
    const auto* data = reinterpret_cast<const stbi_uc*>(bytes.data());
    const int size = static_cast<int>(bytes.size());
    int columns = 0, rows = 0, channels = 0;
    if (!stbi_info_from_memory(data, size, &columns, &rows, &channels))
        return Error{name + " is not a PNG picture: use a 16-bit grey PNG"};
    if (columns <= 0 || rows <= 0 || columns > kLargestMap_px / rows)
        return Error{name + " has more than 16 million pixels: make it smaller"};
    const std::unique_ptr<stbi_us, FreeSamples> samples(
        stbi_load_16_from_memory(data, size, &columns, &rows, &channels, kGrey));
    if (!samples) return Error{name + " is damaged: " + stbi_failure_reason()};
    const double depth = scale.white.value - scale.black.value;
    std::vector<float> heights;
    heights.reserve(static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows));
    for (int row = rows - 1; row >= 0; --row) {
        const stbi_us* from = samples.get() + static_cast<std::ptrdiff_t>(row) * columns;
        for (int column = 0; column < columns; ++column)
            heights.push_back(static_cast<float>(scale.black.value + depth * from[column] / kWhite));
    }
    return spray::HeightMap(bounds, columns, rows, std::move(heights));
}

}  // namespace fadewright::plan
