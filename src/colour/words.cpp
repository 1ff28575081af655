#include "fadewright/colour/words.h"

#include <array>
#include <string_view>

namespace fadewright::colour {
namespace {

// Boundaries of L* and C*.
constexpr double kBlack = 12, kVeryDark = 22, kDarkGrey = 30, kDeep = 40, kBrown = 52, kPink = 64, kPale = 74,
                 kPaleGrey = 78, kVeryPale = 86, kWhite = 94;
constexpr double kCast = 2, kGrey = 6, kGreyish = 16, kStrong = 48, kVivid = 62;

struct HueName {
    double up_to_deg;       // of the hue angle, from the row before
    std::string_view deep;  // L* below kDeep
    std::string_view plain;
    std::string_view light;  // L* above kPink
};

constexpr std::array kHues{HueName{6, "crimson", "magenta", "pink"},
                           HueName{20, "crimson", "crimson", "pink"},
                           HueName{42, "red", "red", "pink"},
                           HueName{56, "red-orange", "red-orange", "red-orange"},
                           HueName{76, "orange", "orange", "orange"},
                           HueName{88, "golden yellow", "golden yellow", "golden yellow"},
                           HueName{106, "yellow", "yellow", "yellow"},
                           HueName{116, "green-yellow", "green-yellow", "green-yellow"},
                           HueName{130, "yellow-green", "yellow-green", "yellow-green"},
                           HueName{172, "green", "green", "green"},
                           HueName{190, "blue-green", "blue-green", "blue-green"},
                           HueName{218, "turquoise", "turquoise", "turquoise"},
                           HueName{290, "blue", "blue", "blue"},
                           HueName{309, "violet-blue", "violet-blue", "violet-blue"},
                           HueName{322, "violet", "violet", "violet"},
                           HueName{345, "red-violet", "magenta", "pink-violet"},
                           HueName{361, "crimson", "magenta", "pink"}};

std::string_view hue_name(const LCh& c) {
    for (const HueName& hue : kHues)
        if (c.h < hue.up_to_deg) return c.L < kDeep ? hue.deep : c.L > kPink ? hue.light : hue.plain;
    return kHues.front().plain;
}

std::string_view lightness_word(double L) {
    if (L < kVeryDark) return "very dark ";
    if (L < kDeep) return "deep ";
    if (L > kVeryPale) return "very pale ";
    if (L > kPale) return "pale ";
    return "";
}

std::string grey_words(const LCh& c) {
    if (c.L < kBlack) return "black";
    std::string_view cast;
    if (c.C >= kCast) cast = c.h < 110 || c.h >= 330 ? "warm " : c.h < 190 ? "greenish " : "cool ";
    if (c.L > kWhite) return std::string(cast) + "white";
    const std::string_view light = c.L < kDarkGrey ? "dark " : c.L > kPaleGrey ? "pale " : "";
    return std::string(light) + std::string(cast) + "grey";
}

// Dark, not too strong oranges and yellows have names of their own.
std::string_view earth_name(const LCh& c) {
    if (c.L >= kBrown) return "";
    if (c.h >= 42 && c.h < 88 && c.C < kStrong) return "brown";
    if (c.h >= 88 && c.h < 116 && c.C < kVivid) return "olive";
    return "";
}

}  // namespace

std::string colour_words(const Lab& lab) {
    const LCh c = to_lch(lab);
    if (c.C < kGrey || (c.L < kBlack && c.C < 2 * kGrey)) return grey_words(c);
    const std::string strength = c.C < kGreyish ? "greyish " : "";
    if (const std::string_view earth = earth_name(c); !earth.empty())
        return (c.L < kDarkGrey ? "dark " : "") + strength + std::string(earth);
    // Vivid yellows and greens are light by nature; nobody calls them pale.
    if (c.C > kVivid && c.L >= kDeep) return "vivid " + std::string(hue_name(c));
    return std::string(lightness_word(c.L)) + strength + std::string(hue_name(c));
}

}  // namespace fadewright::colour
