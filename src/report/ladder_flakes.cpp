#include "ladder_flakes.h"

#include "fadewright/report/format.h"

#include <fmt/core.h>

#include <algorithm>
#include <nlohmann/json.hpp>

namespace fadewright::report {
namespace {

std::string rung_rows(const Ladder& ladder, const std::string& ground,
                      const film::MultiAngleColour FlakeAppearance::*over) {
    std::string out = fmt::format("\n{:<20}", "over " + ground);
    for (const Degrees angle : kShownAngles)
        out += fmt::format("   {:<16} {:>6}", angle_text(angle) + " L* a* b*", "C*");
    out += fmt::format("   {:>5}\n", "flop");
    for (const Rung& rung : ladder.rungs) {
        const film::MultiAngleColour& appearance = *rung.flakes.*over;
        out += fmt::format("{:<20}", rung.label);
        for (const Degrees angle : kShownAngles)
            out += fmt::format("   {:<16} {:>6.1f}", lab_text(appearance.at(angle)),
                               chroma_of(appearance.at(angle)));
        out += fmt::format("   {:>5.1f}\n", appearance.flop);
    }
    return out;
}

std::string flake_dose_rows(const Ladder& ladder) {
    const DisplayUnits units = ladder.units;
    const bool us = units.system() == UnitSystem::us;
    std::string out = fmt::format("\n{:<20} {:>8} {:>13} {:>12} {:>12} {:>7}\n", "flakes",
                                  units.unit_name<GramsPerLitre>(), us ? "teaspoons/qt" : "teaspoons/L",
                                  fmt::format("per {}", units.area_unit_name()), "flake layers", "gaps");
    for (const Rung& rung : ladder.rungs)
        out += fmt::format("{:<20} {:>8} {:>13.1f} {:>12} {:>12.2f} {:>5.0f} %   {}\n", rung.label,
                           units.number(rung.content.in_mix, 1),
                           units.per_volume_unit(rung.content.level_teaspoons),
                           flake_count_text(units.per_area_unit(rung.flakes->per_cm2)), rung.flakes->layers,
                           100 * rung.flakes->gap_share, evenness_label(*rung.flakes));
    const auto dosed = std::find_if(ladder.rungs.begin(), ladder.rungs.end(),
                                    [](const Rung& rung) { return rung.content.in_mix.value > 0; });
    if (dosed != ladder.rungs.end())
        out += fmt::format("ready to spray; level teaspoons of {}; bulk density {}\n{}\n",
                           units.round_to_digits(film::kTeaspoon, 2),
                           units.text(dosed->content.bulk_density, 2), flake_powder_note());
    return out;
}

}  // namespace

bool has_flakes(const Ladder& ladder) {
    return !ladder.rungs.empty() && ladder.rungs.front().flakes.has_value();
}

std::vector<std::string> describe_chroma_peaks(const Ladder& ladder) {
    if (!ladder.varies_film_or_loading) return {};
    std::vector<const Rung*> rising;
    for (const Rung& rung : ladder.rungs) rising.push_back(&rung);
    std::stable_sort(rising.begin(), rising.end(),
                     [](const Rung* a, const Rung* b) { return a->flakes->layers < b->flakes->layers; });
    std::vector<film::MultiAngleColour> appearances;
    std::vector<std::string> names, out;
    for (const Rung* rung : rising) {
        appearances.push_back(rung->flakes->over_black);
        names.push_back(rung->label);
    }
    for (const Degrees angle : kChromaPeakAngles)
        out.push_back(describe_chroma_peak(angle, appearances, names));
    return out;
}

std::string flake_rungs_text(const Ladder& ladder) {
    std::string out = "\nAbove: diffuse light. Below: light at 45°, viewed at these aspecular angles:\n";
    out += rung_rows(ladder, "black", &FlakeAppearance::over_black);
    out += rung_rows(ladder, "grey", &FlakeAppearance::over_grey);
    out += rung_rows(ladder, "white", &FlakeAppearance::over_white);
    out += rung_rows(ladder, ladder.ground_name, &FlakeAppearance::over_ground);
    out += flake_dose_rows(ladder);
    const std::vector<std::string> sentences = describe_chroma_peaks(ladder);
    if (!sentences.empty()) out += "\n";
    for (const std::string& sentence : sentences) out += sentence + "\n";
    return out;
}

void add_flakes_json(nlohmann::ordered_json& json, const Rung& rung) {
    nlohmann::ordered_json flakes;
    add_flake_content_json(flakes, rung.content);
    add_flake_appearance_json(flakes, *rung.flakes);
    json["flakes"] = flakes;
}

}  // namespace fadewright::report
