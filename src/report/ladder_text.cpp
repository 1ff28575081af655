#include "fadewright/report/colour_naming.h"
#include "fadewright/report/format.h"
#include "fadewright/report/ladder.h"
#include "ladder_flakes.h"

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

namespace {

std::string film_text(const std::optional<Micrometres>& film, DisplayUnits units) {
    return film ? units.number(*film) : "never";
}

std::string price_text(const std::optional<double>& per_litre, DisplayUnits units) {
    return per_litre ? fmt::format("{:.2f}", units.per_volume_unit(*per_litre)) : "-";
}

// Sentence on the most visible step.
std::string largest_step(const Ladder& ladder) {
    std::size_t largest = 1;
    for (std::size_t i = 2; i < ladder.rungs.size(); ++i)
        if (ladder.rungs[i].step.over_ground > ladder.rungs[largest].step.over_ground) largest = i;
    return fmt::format("largest step over {}: {:.1f} ΔE00, from {} to {}\n", ladder.ground_name,
                       ladder.rungs[largest].step.over_ground, ladder.rungs[largest - 1].label,
                       ladder.rungs[largest].label);
}

}  // namespace

std::string ladder_text(const Ladder& ladder) {
    const DisplayUnits units = ladder.units;
    const bool us = units.system() == UnitSystem::us;
    const std::string_view film = units.unit_name<Micrometres>();
    std::string out = fmt::format("{}\nVaried: {}\nFixed: {}\nLight: {}\n\n", ladder.title, ladder.varied,
                                  ladder.fixed, ladder.light);
    out += fmt::format("{:<20} {:>7} {:>7} {:>8} {:>8} {:>9} {:>8} {:>7}  {:<18} {:<18} {:>8}\n", "",
                       fmt::format("wet {}", film), fmt::format("dry {}", film), "contrast", "hides at",
                       "binder", "pigment:", "price", "over " + ladder.ground_name, "over white", "step");
    out += fmt::format("{:<20} {:>7} {:>7} {:>8} {:>8} {:>9} {:>8} {:>7}  {:<18} {:<18} {:>8}\n", "", "", "",
                       "ratio", fmt::format("{} dry", film), units.unit_name<GramsPerLitre>(), "binder",
                       us ? "per qt" : "per L", "L* a* b*", "L* a* b*", "ΔE00");
    for (std::size_t i = 0; i < ladder.rungs.size(); ++i) {
        const Rung& r = ladder.rungs[i];
        out += fmt::format("{:<20} {:>7} {:>7} {:>8.3f} {:>8} {:>9} {:>8.2f} {:>7}  {:<18} {:<18} {:>8}\n",
                           r.label, units.number(r.wet_film, 1), units.number(r.film, 1), r.contrast_ratio,
                           film_text(r.film_to_hide, units),
                           units.number(GramsPerLitre{r.mix.binder_g_per_litre}), r.mix.pigment_binder,
                           price_text(r.price_per_litre, units), lab_text(r.over_ground),
                           lab_text(r.over_white), i == 0 ? "" : fmt::format("{:.1f}", r.step.over_ground));
    }
    if (ladder.rungs.size() > 1) out += "\n" + largest_step(ladder);
    if (has_flakes(ladder)) out += flake_rungs_text(ladder);
    return out;
}

std::string ladder_json(const Ladder& ladder) {
    nlohmann::ordered_json json;
    json["title"] = ladder.title;
    json["varied"] = ladder.varied;
    json["fixed"] = ladder.fixed;
    json["light"] = ladder.light;
    json["ground"] = ladder.ground_name;
    for (const Rung& r : ladder.rungs) {
        nlohmann::ordered_json rung;
        rung["label"] = r.label;
        rung["wet_um"] = r.wet_film.value;
        rung["film_um"] = r.film.value;
        rung["contrast_ratio"] = r.contrast_ratio;
        rung["film_to_hide_um"] = r.film_to_hide ? nlohmann::ordered_json(r.film_to_hide->value) : nullptr;
        rung["solids_percent"] = 100 * r.mix.solids.value;
        rung["binder_g_per_litre"] = r.mix.binder_g_per_litre;
        rung["pigment_binder"] = r.mix.pigment_binder;
        rung["price_per_litre"] = r.price_per_litre ? nlohmann::ordered_json(*r.price_per_litre) : nullptr;
        rung["step_over_ground_dE00"] = r.step.over_ground;
        rung["step_over_white_dE00"] = r.step.over_white;
        add_colour_json(rung, "masstone", r.masstone);
        add_colour_json(rung, "over_white", r.over_white);
        add_colour_json(rung, "over_black", r.over_black);
        add_colour_json(rung, "over_ground", r.over_ground);
        if (r.flakes) add_flakes_json(rung, r);
        json["rungs"].push_back(rung);
    }
    if (has_flakes(ladder)) json["sentences"] = describe_chroma_peaks(ladder);
    return json.dump(2) + "\n";
}

}  // namespace fadewright::report
