#include "fadewright/report/colour_naming.h"

#include <array>
#include <string_view>

namespace fadewright::report {
namespace {

// Boundaries of L* and C*.
constexpr double kBlack = 12, kVeryDark = 22, kDarkGrey = 30, kDeep = 40, kBrown = 52, kPink = 64, kPale = 74,
                 kPaleGrey = 78, kVeryPale = 86, kWhite = 94;
constexpr double kCast = 2, kGrey = 6, kGreyish = 16, kStrong = 48, kVivid = 62;

struct HueName {
    double up_to_deg;       // hue angle, from that of the previous row
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

std::string_view hue_name(const colour::LCh& lch) {
    for (const HueName& hue : kHues)
        if (lch.h < hue.up_to_deg) return lch.L < kDeep ? hue.deep : lch.L > kPink ? hue.light : hue.plain;
    return kHues.front().plain;
}

std::string_view lightness_word(double L) {
    if (L < kVeryDark) return "very dark ";
    if (L < kDeep) return "deep ";
    if (L > kVeryPale) return "very pale ";
    if (L > kPale) return "pale ";
    return "";
}

std::string grey_name(const colour::LCh& lch) {
    if (lch.L < kBlack) return "black";
    std::string_view cast;
    if (lch.C >= kCast) cast = lch.h < 110 || lch.h >= 330 ? "warm " : lch.h < 190 ? "greenish " : "cool ";
    if (lch.L > kWhite) return std::string(cast) + "white";
    const std::string_view light = lch.L < kDarkGrey ? "dark " : lch.L > kPaleGrey ? "pale " : "";
    return std::string(light) + std::string(cast) + "grey";
}

// Dark oranges and yellows of moderate chroma have their own names.
std::string_view earth_name(const colour::LCh& lch) {
    if (lch.L >= kBrown) return "";
    if (lch.h >= 42 && lch.h < 88 && lch.C < kStrong) return "brown";
    if (lch.h >= 88 && lch.h < 116 && lch.C < kVivid) return "olive";
    return "";
}

}  // namespace

std::string colour_name(const colour::Lab& lab) {
    const colour::LCh lch = colour::to_lch(lab);
    if (lch.C < kGrey || (lch.L < kBlack && lch.C < 2 * kGrey)) return grey_name(lch);
    const std::string strength = lch.C < kGreyish ? "greyish " : "";
    if (const std::string_view earth = earth_name(lch); !earth.empty())
        return (lch.L < kDarkGrey ? "dark " : "") + strength + std::string(earth);
    // Vivid yellows and greens are always light; nobody calls them pale.
    if (lch.C > kVivid && lch.L >= kDeep) return "vivid " + std::string(hue_name(lch));
    return std::string(lightness_word(lch.L)) + strength + std::string(hue_name(lch));
}

}  // namespace fadewright::report
