// One reading of a card, however it was come by, as a reflectance seen through the skin.
#pragma once

#include "fadewright/colour/srgb.h"
#include "fadewright/plan/card.h"

#include <map>

namespace fadewright::plan {

enum class Means { spectrum, picture, colour };  // surest first

struct SeenReading {
    colour::Reflectance seen;
    Means by = Means::spectrum;
};

// Reads everything of one card; pictures once.
class CardReader {
public:
    CardReader(const CardFile& card, const CardFiles& files, Diagnostics& diagnostics);

    // Nothing, and reported, if the reading is wrong. `what` names it for the message.
    [[nodiscard]] std::optional<SeenReading> read(const CardReading& reading, const std::string& what);

    [[nodiscard]] Means least_sure() const { return least_sure_; }
    [[nodiscard]] bool led_to_grey() const { return led_to_grey_; }

private:
    [[nodiscard]] static colour::Reflectance spectrum(const CardReading& reading);
    [[nodiscard]] std::optional<colour::Reflectance> patch(const CardReading& reading,
                                                           const std::string& what);
    [[nodiscard]] colour::Reflectance three_numbers(const CardReading& reading);
    // Mean linear sRGB of a rectangle; nothing, and reported, if it lies outside or is burnt out.
    [[nodiscard]] std::optional<colour::Rgb> mean_of(const std::vector<int>& rectangle, const Place& place,
                                                     const std::string& what);
    // What the picture's values are multiplied by, so that the grey patch comes out right.
    [[nodiscard]] std::optional<colour::Rgb> balance();
    void open_scan();

    const CardFile& card_;
    const CardFiles& files_;
    Diagnostics& diagnostics_;
    std::optional<Picture> picture_;
    bool scan_opened_ = false;
    std::optional<colour::Rgb> balance_;
    Means least_sure_ = Means::spectrum;
    bool led_to_grey_ = false;
};

}  // namespace fadewright::plan
