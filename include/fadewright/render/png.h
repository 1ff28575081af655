// PNG files: pictures with their profile, true size and notes.
//
// Written by stb_image_write with libdeflate in place of its zlib; iCCP, pHYs and text chunks are put in
// behind the header. The same picture and notes give the same bytes. Read by stb_image.
//
// Source     W3C PNG specification, third edition (chunks)
#pragma once

#include "fadewright/base/image.h"
#include "fadewright/base/result.h"

#include <map>
#include <string>
#include <utility>
#include <vector>

namespace fadewright::render {

struct PngNotes {
    std::string icc;                                         // profile; none if empty
    std::string icc_name;                                    // 1 to 79 printable Latin-1 characters
    double pixels_per_metre = 0;                             // 0: unknown
    std::vector<std::pair<std::string, std::string>> texts;  // keyword (1 to 79 characters) and words, UTF-8
};

// 1, 3 or 4 channels of 8 bits (contract).
[[nodiscard]] std::string png_bytes(const Picture& picture, const PngNotes& notes);

inline constexpr int kMostPixels_read = 64'000'000;

// Any PNG or JPEG, as 3 channels of 8 bits; refuses what is damaged or larger than kMostPixels_read.
[[nodiscard]] Result<Picture> read_picture(const std::string& bytes, const std::string& name);

// Keyword -> words of every text chunk.
[[nodiscard]] std::map<std::string, std::string> png_texts(const std::string& bytes);

}  // namespace fadewright::render
