#include "stb_write.h"

#include <libdeflate.h>

#include <cstdlib>
#include <memory>

namespace {

// Measured on a dithered fade: more effort hardly compresses better. Rows are not filtered; every PNG filter
// turns the pattern of the dither into noise, which makes such pictures larger and slower to compress.
constexpr int kEffort = 6;
constexpr int kNoFilter = 0;

struct FreeCompressor {
    void operator()(libdeflate_compressor* c) const { libdeflate_free_compressor(c); }
};

// stb's hook: takes the filtered rows, returns a malloc'ed zlib stream.
unsigned char* zlib_by_libdeflate(unsigned char* data, int size, int* out_size, int /*quality*/) {
    const std::unique_ptr<libdeflate_compressor, FreeCompressor> compressor(
        libdeflate_alloc_compressor(kEffort));
    if (!compressor) return nullptr;
    const auto bytes = static_cast<std::size_t>(size);
    const std::size_t room = libdeflate_zlib_compress_bound(compressor.get(), bytes);
    auto* out = static_cast<unsigned char*>(std::malloc(room));
    if (!out) return nullptr;
    *out_size = static_cast<int>(libdeflate_zlib_compress(compressor.get(), data, bytes, out, room));
    return out;
}

}  // namespace

#define STBIW_ZLIB_COMPRESS zlib_by_libdeflate
#define STB_IMAGE_WRITE_STATIC
#define STB_IMAGE_WRITE_IMPLEMENTATION
#define STBI_WRITE_NO_STDIO
#if defined(__GNUC__)
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wunused-function"
#pragma GCC diagnostic ignored "-Wconversion"
#pragma GCC diagnostic ignored "-Wsign-conversion"
#pragma GCC diagnostic ignored "-Wold-style-cast"
#pragma GCC diagnostic ignored "-Wshadow"
#pragma GCC diagnostic ignored "-Wmissing-field-initializers"
#endif
#include <stb/stb_image_write.h>
#if defined(__GNUC__)
#pragma GCC diagnostic pop
#endif

namespace fadewright::render::stb {

std::string encode_png(const unsigned char* samples, int width, int height, int channels) {
    [[maybe_unused]] static const int filter = (stbi_write_force_png_filter = kNoFilter);
    int size = 0;
    struct Free {
        void operator()(unsigned char* p) const { std::free(p); }
    };
    const std::unique_ptr<unsigned char, Free> bytes(
        stbi_write_png_to_mem(samples, width * channels, width, height, channels, &size));
    if (!bytes) return {};
    return {reinterpret_cast<const char*>(bytes.get()), static_cast<std::size_t>(size)};
}

std::string zlib_compress(const std::string& bytes) {
    std::string copy = bytes;
    int size = 0;
    unsigned char* out = zlib_by_libdeflate(reinterpret_cast<unsigned char*>(copy.data()),
                                            static_cast<int>(copy.size()), &size, 0);
    std::string stream(reinterpret_cast<const char*>(out), out ? static_cast<std::size_t>(size) : 0);
    std::free(out);
    return stream;
}

}  // namespace fadewright::render::stb
