#include "ladder_flakes.h"

#include "fadewright/report/shown.h"

#include <fmt/core.h>

#include <algorithm>
#include <nlohmann/json.hpp>

namespace fadewright::report {
namespace {

std::string rung_rows(const Ladder& ladder, const std::string& ground,
                      const film::AngledLook FlakeLook::*over) {
    std::string out = fmt::format("\n{:<20}", "over " + ground);
    for (const Degrees angle : kShownAngles)
        out += fmt::format("   {:<16} {:>6}", angle_text(angle) + " L a b", "C");
    out += fmt::format("   {:>5}\n", "flop");
    for (const Rung& rung : ladder.rungs) {
        const film::AngledLook& look = *rung.flakes.*over;
        out += fmt::format("{:<20}", rung.label);
        for (const Degrees angle : kShownAngles)
            out += fmt::format("   {:<16} {:>6.1f}", lab_text(look.at(angle)), chroma_of(look.at(angle)));
        out += fmt::format("   {:>5.1f}\n", look.flop);
    }
    return out;
}

std::string dose_rows(const Ladder& ladder) {
    const ShownUnits units = ladder.units;
    const bool us = units.system() == UnitSystem::us;
    std::string out = fmt::format("\n{:<20} {:>8} {:>13} {:>12} {:>10} {:>7}\n", "flakes",
                                  units.name<GramsPerLitre>(), us ? "teaspoons/qt" : "teaspoons/L",
                                  fmt::format("on a {}", units.patch()), "crossings", "bare");
    for (const Rung& rung : ladder.rungs)
        out += fmt::format("{:<20} {:>8} {:>13.1f} {:>12} {:>10.2f} {:>5.0f} %   {}\n", rung.label,
                           units.figure(rung.content.in_mix, 1), units.in_litre(rung.content.level_teaspoons),
                           number_of_flakes(units.on_patch(rung.flakes->per_cm2)), rung.flakes->crossings,
                           100 * rung.flakes->bare_share, patchiness_words(*rung.flakes));
    const auto dosed = std::find_if(ladder.rungs.begin(), ladder.rungs.end(),
                                    [](const Rung& rung) { return rung.content.in_mix.value > 0; });
    if (dosed != ladder.rungs.end())
        out += fmt::format("as sprayed; level teaspoons of {}, dry powder at {}\n",
                           units.rounded(film::kTeaspoon, 2), units.text(dosed->content.heaped_density, 2));
    return out;
}

}  // namespace

bool shows_flakes(const Ladder& ladder) {
    return !ladder.rungs.empty() && ladder.rungs.front().flakes.has_value();
}

void look_from_the_side(Rung& rung, const plan::FlakeContent& content, const colour::Reflectance& ground,
                        const film::Looker& looker) {
    rung.content = content;
    rung.flakes = flake_look(rung.mix, rung.film, ground, looker);
}

std::vector<std::string> milk_sentences(const Ladder& ladder) {
    if (!ladder.more_each) return {};
    std::vector<const Rung*> rising;
    for (const Rung& rung : ladder.rungs) rising.push_back(&rung);
    std::stable_sort(rising.begin(), rising.end(), [](const Rung* a, const Rung* b) {
        return a->flakes->crossings < b->flakes->crossings;
    });
    std::vector<film::AngledLook> looks;
    std::vector<std::string> names, out;
    for (const Rung* rung : rising) {
        looks.push_back(rung->flakes->over_black);
        names.push_back(rung->label);
    }
    for (const Degrees angle : kMilkAngles) out.push_back(milk_sentence(angle, looks, names));
    return out;
}

std::string flake_rungs_text(const Ladder& ladder) {
    std::string out =
        "\nthat is what even light shows; with the light at 45 deg and the eye so far from the shine:\n";
    out += rung_rows(ladder, "black", &FlakeLook::over_black);
    out += rung_rows(ladder, "grey", &FlakeLook::over_grey);
    out += rung_rows(ladder, "white", &FlakeLook::over_white);
    out += rung_rows(ladder, ladder.ground_name, &FlakeLook::over_ground);
    out += dose_rows(ladder);
    const std::vector<std::string> sentences = milk_sentences(ladder);
    if (!sentences.empty()) out += "\n";
    for (const std::string& sentence : sentences) out += sentence + "\n";
    return out;
}

void put_flakes(nlohmann::ordered_json& json, const Rung& rung) {
    nlohmann::ordered_json flakes;
    put_content(flakes, rung.content);
    put_look(flakes, *rung.flakes);
    json["flakes"] = flakes;
}

}  // namespace fadewright::report
