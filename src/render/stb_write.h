// The parts of stb that png.cpp uses; compiled in stb_write.cpp with libdeflate as the zlib.
#pragma once

#include <string>

namespace fadewright::render::stb {

// A whole PNG file without extra chunks; empty if there was no memory for it.
[[nodiscard]] std::string encode_png(const unsigned char* samples, int width, int height, int channels);

// A zlib stream; empty if there was no memory for it.
[[nodiscard]] std::string zlib_compress(const std::string& bytes);

}  // namespace fadewright::render::stb
