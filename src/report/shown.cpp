#include "fadewright/report/shown.h"

#include "fadewright/colour/srgb.h"
#include "fadewright/colour/words.h"

#include <fmt/core.h>

#include <cmath>
#include <nlohmann/json.hpp>

namespace fadewright::report {
double thousandths(double v) { return std::round(v * 1000) / 1000; }
double millionths(double v) { return std::round(v * 1e6) / 1e6; }

Rgb shown(const colour::Lab& lab) {
    const auto bytes = colour::srgb_bytes(lab);
    return {bytes[0], bytes[1], bytes[2]};
}

std::string hex_of(const colour::Lab& lab) {
    const Rgb c = shown(lab);
    return fmt::format("#{:02x}{:02x}{:02x}", c.r, c.g, c.b);
}

std::string lab_text(const colour::Lab& lab) {
    return fmt::format("{:.1f} {:.1f} {:.1f}", lab.L, lab.a, lab.b);
}

std::string ratio_text(double parts_of_b) {
    const auto number = [](double v) {
        return v >= 20 ? fmt::format("{:.0f}", v) : fmt::format("{:.1f}", v);
    };
    if (parts_of_b >= 1) return "1 : " + number(parts_of_b);
    return number(1 / parts_of_b) + " : 1";
}

Rgb ink_on(const colour::Lab& lab) { return lab.L > 55 ? Rgb{20, 20, 20} : Rgb{245, 245, 245}; }

std::string origin_words(paint::Origin origin) {
    switch (origin) {
        case paint::Origin::measured:
            return "measured";
        case paint::Origin::fitted:
            return "fitted";
        case paint::Origin::estimated:
            break;
    }
    return "estimated";
}

void put_colour(nlohmann::ordered_json& json, const char* name, const colour::Lab& lab) {
    json[name] = {{"lab", {thousandths(lab.L), thousandths(lab.a), thousandths(lab.b)}},
                  {"srgb", hex_of(lab)},
                  {"words", colour::colour_words(lab)}};
}

}  // namespace fadewright::report
