// One reading of a card, however it was come by, as a reflectance seen through the skin.
#pragma once

#include "fadewright/colour/srgb.h"
#include "fadewright/plan/paint_calibration.h"

#include <map>

namespace fadewright::plan {

enum class ReadingMethod { spectrum, picture, colour };  // surest first

struct MeasuredReflectance {
    colour::Reflectance reflectance;
    ReadingMethod method = ReadingMethod::spectrum;
};

// Reads everything of one card; pictures once.
class CardReader {
public:
    CardReader(const SprayOutCard& card, const CardFiles& files, Diagnostics& diagnostics);

    // Nothing, and reported, if the reading is wrong. `what` names it for the message.
    [[nodiscard]] std::optional<MeasuredReflectance> read(const CardReading& reading,
                                                          const std::string& noun);

    [[nodiscard]] ReadingMethod least_reliable() const { return least_reliable_; }
    [[nodiscard]] bool clipped_to_gamut() const { return clipped_to_gamut_; }

private:
    [[nodiscard]] static colour::Reflectance from_spectrum(const CardReading& reading);
    [[nodiscard]] std::optional<colour::Reflectance> from_patch(const CardReading& reading,
                                                                const std::string& noun);
    [[nodiscard]] colour::Reflectance from_colour(const CardReading& reading);
    // Mean linear sRGB of a rectangle; nothing, and reported, if it lies outside or is burnt out.
    [[nodiscard]] std::optional<colour::Rgb> mean_of(const std::vector<int>& rectangle,
                                                     const SourceSpan& span, const std::string& noun);
    // What the picture's values are multiplied by, so that the grey patch comes out right.
    [[nodiscard]] std::optional<colour::Rgb> white_balance();
    void open_scan();

    const SprayOutCard& card_;
    const CardFiles& files_;
    Diagnostics& diagnostics_;
    std::optional<Picture> picture_;
    bool scan_opened_ = false;
    std::optional<colour::Rgb> white_balance_;
    ReadingMethod least_reliable_ = ReadingMethod::spectrum;
    bool clipped_to_gamut_ = false;
};

}  // namespace fadewright::plan
