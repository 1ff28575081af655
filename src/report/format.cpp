#include "fadewright/report/format.h"

#include "fadewright/colour/srgb.h"
#include "fadewright/report/colour_naming.h"

#include <fmt/core.h>

#include <cmath>
#include <nlohmann/json.hpp>

namespace fadewright::report {
namespace {

int whole_seconds(Seconds time) { return static_cast<int>(std::ceil(time.value - 1e-9)); }

}  // namespace

double round_to_thousandths(double v) { return std::round(v * 1000) / 1000; }
double round_to_millionths(double v) { return std::round(v * 1e6) / 1e6; }

Rgb display_rgb(const colour::Lab& lab) {
    const auto bytes = colour::srgb_bytes(lab);
    return {bytes[0], bytes[1], bytes[2]};
}

std::string hex_colour(const colour::Lab& lab) {
    const Rgb c = display_rgb(lab);
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

Rgb contrasting_ink(const colour::Lab& lab) { return lab.L > 55 ? Rgb{20, 20, 20} : Rgb{245, 245, 245}; }

std::string clock_text(Seconds time) {
    const int seconds = whole_seconds(time);
    return fmt::format("{}:{:02}", seconds / 60, seconds % 60);
}

std::string duration_text(Seconds time) {
    const int seconds = whole_seconds(time);
    return seconds < 60 ? fmt::format("{} s", seconds)
                        : fmt::format("{} min {:02} s", seconds / 60, seconds % 60);
}

std::string provenance_label(paint::Provenance origin) {
    switch (origin) {
        case paint::Provenance::measured:
            return "measured";
        case paint::Provenance::fitted:
            return "fitted";
        case paint::Provenance::estimated:
            break;
    }
    return "estimated";
}

void add_colour_json(nlohmann::ordered_json& json, const char* name, const colour::Lab& lab) {
    json[name] = {
        {"lab", {round_to_thousandths(lab.L), round_to_thousandths(lab.a), round_to_thousandths(lab.b)}},
        {"srgb", hex_colour(lab)},
        {"colour_name", colour_name(lab)}};
}

}  // namespace fadewright::report
