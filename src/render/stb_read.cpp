#include "fadewright/render/png.h"

#define STB_IMAGE_STATIC
#define STB_IMAGE_IMPLEMENTATION
#define STBI_NO_STDIO
#define STBI_ONLY_PNG
#define STBI_ONLY_JPEG
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

#include <algorithm>
#include <memory>

namespace fadewright::render {

Result<Picture> read_picture(const std::string& bytes, const std::string& name) {
    const auto* data = reinterpret_cast<const stbi_uc*>(bytes.data());
    const int size = static_cast<int>(bytes.size());
    int width = 0, height = 0, channels = 0;
    // Also fails on absurd sizes, which the reader does not distinguish from invalid bytes.
    if (!stbi_info_from_memory(data, size, &width, &height, &channels))
        return Error{name + " is not a PNG or JPEG picture of at most 64 million pixels"};
    if (width <= 0 || height <= 0 || width > kMaxPicture_px / height)
        return Error{name + " is larger than 64 million pixels"};
    struct Free {
        void operator()(stbi_uc* p) const { stbi_image_free(p); }
    };
    const std::unique_ptr<stbi_uc, Free> samples(
        stbi_load_from_memory(data, size, &width, &height, &channels, 3));
    if (!samples) return Error{name + " is damaged: " + stbi_failure_reason()};
    Picture picture(width, height, 3);
    std::copy_n(samples.get(), picture.samples.size(), picture.samples.begin());
    return picture;
}

}  // namespace fadewright::render
