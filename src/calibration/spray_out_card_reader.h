// One reading of a card, of any kind, as an external reflectance.
#pragma once

#include "fadewright/calibration/paint_calibration.h"
#include "fadewright/colour/srgb.h"

#include <map>

namespace fadewright::calibration {

enum class ReadingMethod { spectrum, picture, colour };  // most reliable first

struct MeasuredReflectance {
    colour::Reflectance reflectance;
    ReadingMethod method = ReadingMethod::spectrum;
};

// Reads all readings of one card; its picture once.
class CardReader {
public:
    CardReader(const SprayOutCard& card, const CardFiles& files, Diagnostics& diagnostics);

    // Reports and returns nothing if the reading is wrong. `noun` names it in the message.
    [[nodiscard]] std::optional<MeasuredReflectance> read(const CardReading& reading,
                                                          const std::string& noun);

    [[nodiscard]] ReadingMethod lowest_accuracy() const { return lowest_accuracy_; }
    [[nodiscard]] bool clipped_to_gamut() const { return clipped_to_gamut_; }

private:
    [[nodiscard]] static colour::Reflectance from_spectrum(const CardReading& reading);
    [[nodiscard]] std::optional<colour::Reflectance> from_patch(const CardReading& reading,
                                                                const std::string& noun);
    [[nodiscard]] colour::Reflectance from_colour(const CardReading& reading);
    // Mean linear sRGB of a rectangle. Reports and returns nothing if it is outside the picture or
    // overexposed.
    [[nodiscard]] std::optional<colour::Rgb> mean_of(const std::vector<int>& rectangle,
                                                     const SourceSpan& span, const std::string& noun);
    // Factors on the picture's values that make the grey patch neutral and correct.
    [[nodiscard]] std::optional<colour::Rgb> white_balance();
    void open_scan();

    const SprayOutCard& card_;
    const CardFiles& files_;
    Diagnostics& diagnostics_;
    std::optional<Picture> picture_;
    bool scan_opened_ = false;
    std::optional<colour::Rgb> white_balance_;
    ReadingMethod lowest_accuracy_ = ReadingMethod::spectrum;
    bool clipped_to_gamut_ = false;
};

}  // namespace fadewright::calibration
