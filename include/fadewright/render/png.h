// PNG files: pictures with their colour profile, true size and metadata.
//
// Written by stb_image_write with libdeflate in place of its zlib; iCCP, pHYs and text chunks are inserted
// after the header. The same picture and metadata give the same bytes. Read by stb_image.
//
// Source: [iso15948] (signature, chunk layout, iCCP, pHYs, tEXt, iTXt), [w3c2025png] (acTL, fcTL, fdAT of
//            moving pictures).
// Checks     tests/render/png_test.cpp
#pragma once

#include "fadewright/base/image.h"
#include "fadewright/base/quantity.h"
#include "fadewright/base/result.h"

#include <map>
#include <string>
#include <utility>
#include <vector>

namespace fadewright::render {

struct PngMetadata {
    std::string icc;                                         // profile; none if empty
    std::string icc_name;                                    // 1 to 79 printable characters
    double pixels_per_metre = 0;                             // 0: unknown
    std::vector<std::pair<std::string, std::string>> texts;  // keyword (1 to 79 characters) and text, UTF-8
};

// 1, 3 or 4 channels of 8 bits; keywords and names of the stated length (contract). Empty texts are left out;
// a zero byte in a text becomes a space.
[[nodiscard]] std::string png_bytes(const Picture& picture, const PngMetadata& metadata);

// An endless animation (APNG) of files of png_bytes(), all of one size. Programs without APNG show the first,
// whose metadata it carries.
[[nodiscard]] std::string apng_bytes(const std::vector<std::string>& pngs, Seconds frame_duration);

inline constexpr int kMaxPicture_px = 64'000'000;

// Any PNG or JPEG, as 3 channels of 8 bits (profiles and transparency are dropped). An error if it is
// damaged, truncated or larger than kMaxPicture_px; `name` is for the message.
[[nodiscard]] Result<Picture> read_picture(const std::string& bytes, const std::string& name);

// Keyword -> text of every text chunk that is not compressed; empty if the bytes are not a PNG.
[[nodiscard]] std::map<std::string, std::string> png_texts(const std::string& bytes);

}  // namespace fadewright::render
