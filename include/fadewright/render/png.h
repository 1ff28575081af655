// PNG files: pictures with their profile, true size and notes.
//
// Written by stb_image_write with libdeflate in place of its zlib; iCCP, pHYs and text chunks are put in
// behind the header. The same picture and notes give the same bytes. Read by stb_image.
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
    std::vector<std::pair<std::string, std::string>> texts;  // keyword (1 to 79 characters) and words, UTF-8
};

// 1, 3 or 4 channels of 8 bits; keywords and names of the stated length (contract). Notes without words are
// left out, a zero byte among the words becomes a space.
[[nodiscard]] std::string png_bytes(const Picture& picture, const PngMetadata& metadata);

// Files of png_bytes(), of one size, shown one after the other, for ever; programs that know nothing of it show the
// first, whose notes it has.
[[nodiscard]] std::string apng_bytes(const std::vector<std::string>& pngs, Seconds frame_duration);

inline constexpr int kMaxPicture_px = 64'000'000;

// Any PNG or JPEG, as 3 channels of 8 bits (profiles and transparency are dropped); refuses what is damaged,
// cut short or larger than kReadLimit_px. `name` is for the refusal.
[[nodiscard]] Result<Picture> read_picture(const std::string& bytes, const std::string& name);

// Keyword -> words of every text chunk that is not compressed; none from what is no PNG.
[[nodiscard]] std::map<std::string, std::string> png_texts(const std::string& bytes);

}  // namespace fadewright::render
