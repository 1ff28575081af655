#include "fadewright/colour/words.h"

#include <array>
#include <string_view>

namespace fadewright::colour {
namespace {

struct HueName {
    double up_to_deg;
    std::string_view name;
};

constexpr std::array kHues{
    HueName{14, "pink-red"},      HueName{40, "red"},           HueName{58, "orange-red"},
    HueName{74, "orange"},        HueName{84, "golden orange"}, HueName{98, "yellow"},
    HueName{116, "green-yellow"}, HueName{140, "yellow-green"}, HueName{168, "green"},
    HueName{200, "blue-green"},   HueName{232, "turquoise"},    HueName{265, "blue"},
    HueName{296, "violet-blue"},  HueName{318, "violet"},       HueName{336, "red-violet"},
    HueName{350, "magenta"},      HueName{361, "pink-red"}};

std::string_view hue_name(double h) {
    for (const HueName& hue : kHues)
        if (h < hue.up_to_deg) return hue.name;
    return kHues.back().name;
}

std::string_view lightness_word(double L) {
    if (L < 22) return "very dark ";
    if (L < 40) return "deep ";
    if (L > 86) return "very pale ";
    if (L > 74) return "pale ";
    return "";
}

std::string grey_words(const LCh& c) {
    if (c.L > 94) return "white";
    if (c.L < 12) return "black";
    std::string_view cast;
    if (c.C >= 2) cast = c.h < 110 || c.h >= 330 ? "warm " : c.h < 190 ? "greenish " : "cool ";
    const std::string_view light = c.L < 30 ? "dark " : c.L > 78 ? "pale " : "";
    return std::string(light) + std::string(cast) + "grey";
}

}  // namespace

std::string colour_words(const Lab& lab) {
    const LCh c = to_lch(lab);
    if (c.C < 6) return grey_words(c);
    // Dark orange and yellow have names of their own.
    if (c.h >= 40 && c.h < 95 && c.L < 45)
        return std::string(c.L < 25 ? "dark " : "") + (c.C < 12 ? "grey-brown" : "brown");
    const std::string_view strength = c.C < 16 ? "greyish " : c.C > 62 ? "vivid " : "";
    return std::string(lightness_word(c.L)) + std::string(strength) + std::string(hue_name(c.h));
}

}  // namespace fadewright::colour
