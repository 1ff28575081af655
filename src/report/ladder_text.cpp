#include "fadewright/colour/delta_e.h"
#include "fadewright/colour/words.h"
#include "fadewright/film/hiding.h"
#include "fadewright/report/ladder.h"
#include "fadewright/report/shown.h"
#include "ladder_flakes.h"

#include <fmt/core.h>

#include <nlohmann/json.hpp>

namespace fadewright::report {
namespace {

std::string film_text(const std::optional<Micrometres>& film, ShownUnits units) {
    return film ? units.figure(*film) : "never";
}

std::string price_text(const std::optional<double>& per_litre, ShownUnits units) {
    return per_litre ? fmt::format("{:.2f}", units.in_litre(*per_litre)) : "-";
}

// The step that is hardest to miss, in words.
std::string largest_step(const Ladder& ladder) {
    std::size_t largest = 1;
    for (std::size_t i = 2; i < ladder.rungs.size(); ++i)
        if (ladder.rungs[i].step_over_ground > ladder.rungs[largest].step_over_ground) largest = i;
    return fmt::format("largest step over {}: {:.1f} dE00, from {} to {}\n", ladder.ground_name,
                       ladder.rungs[largest].step_over_ground, ladder.rungs[largest - 1].label,
                       ladder.rungs[largest].label);
}

}  // namespace

Rung make_rung(std::string label, std::span<const paint::Part> parts, Micrometres wet,
               const colour::Reflectance& ground, const film::Looker& looker) {
    Rung rung;
    rung.label = std::move(label);
    rung.mix = paint::mixed(parts);
    rung.wet = wet;
    rung.film = paint::dry_film(rung.mix, wet);
    const auto white = colour::Reflectance::constant(film::kWhiteCard);
    const auto black = colour::Reflectance::constant(film::kBlackCard);
    const colour::Reflectance on_white = film::over(rung.mix, rung.film, white);
    const colour::Reflectance on_black = film::over(rung.mix, rung.film, black);
    rung.masstone = looker.lab(film::masstone(rung.mix));
    rung.over_white = looker.lab(on_white);
    rung.over_black = looker.lab(on_black);
    rung.over_ground = looker.lab(film::over(rung.mix, rung.film, ground));
    rung.contrast_ratio = looker.xyz(on_black).Y / looker.xyz(on_white).Y;
    rung.film_to_hide = film::film_to_hide(rung.mix, film::kFullHiding, {film::kBlackCard, film::kWhiteCard},
                                           looker.skin(), looker.luminosity());
    rung.price_per_litre = price_of(parts);
    return rung;
}

void measure_steps(Ladder& ladder) {
    for (std::size_t i = 1; i < ladder.rungs.size(); ++i) {
        Rung& rung = ladder.rungs[i];
        const Rung& before = ladder.rungs[i - 1];
        rung.step_over_ground = colour::delta_e_2000(before.over_ground, rung.over_ground);
        rung.step_over_white = colour::delta_e_2000(before.over_white, rung.over_white);
    }
}

std::string ladder_text(const Ladder& ladder) {
    const ShownUnits units = ladder.units;
    const bool us = units.system() == UnitSystem::us;
    const std::string_view film = units.name<Micrometres>();
    std::string out = fmt::format("{}\nstepped: {}; held: {}\nseen in {}\n\n", ladder.title, ladder.stepped,
                                  ladder.held, ladder.light);
    out += fmt::format("{:<20} {:>7} {:>7} {:>8} {:>8} {:>9} {:>8} {:>7}  {:<18} {:<18} {:>8}\n", "",
                       fmt::format("wet {}", film), fmt::format("dry {}", film), "contrast", "hides at",
                       "binder", "pigment:", "price", "over " + ladder.ground_name, "over white", "step");
    out += fmt::format("{:<20} {:>7} {:>7} {:>8} {:>8} {:>9} {:>8} {:>7}  {:<18} {:<18} {:>8}\n", "", "", "",
                       "ratio", fmt::format("{} dry", film), units.name<GramsPerLitre>(), "binder",
                       us ? "per qt" : "per L", "L a b", "L a b", "dE00");
    for (std::size_t i = 0; i < ladder.rungs.size(); ++i) {
        const Rung& r = ladder.rungs[i];
        out += fmt::format("{:<20} {:>7} {:>7} {:>8.3f} {:>8} {:>9} {:>8.2f} {:>7}  {:<18} {:<18} {:>8}\n",
                           r.label, units.figure(r.wet, 1), units.figure(r.film, 1), r.contrast_ratio,
                           film_text(r.film_to_hide, units),
                           units.figure(GramsPerLitre{r.mix.binder_g_per_litre}), r.mix.pigment_binder,
                           price_text(r.price_per_litre, units), lab_text(r.over_ground),
                           lab_text(r.over_white), i == 0 ? "" : fmt::format("{:.1f}", r.step_over_ground));
    }
    if (ladder.rungs.size() > 1) out += "\n" + largest_step(ladder);
    if (shows_flakes(ladder)) out += flake_rungs_text(ladder);
    return out;
}

std::string ladder_json(const Ladder& ladder) {
    nlohmann::ordered_json json;
    json["title"] = ladder.title;
    json["stepped"] = ladder.stepped;
    json["held"] = ladder.held;
    json["light"] = ladder.light;
    json["ground"] = ladder.ground_name;
    for (const Rung& r : ladder.rungs) {
        nlohmann::ordered_json rung;
        rung["label"] = r.label;
        rung["wet_um"] = r.wet.value;
        rung["film_um"] = r.film.value;
        rung["contrast_ratio"] = r.contrast_ratio;
        rung["film_to_hide_um"] = r.film_to_hide ? nlohmann::ordered_json(r.film_to_hide->value) : nullptr;
        rung["solids_percent"] = 100 * r.mix.solids.value;
        rung["binder_g_per_litre"] = r.mix.binder_g_per_litre;
        rung["pigment_binder"] = r.mix.pigment_binder;
        rung["price_per_litre"] = r.price_per_litre ? nlohmann::ordered_json(*r.price_per_litre) : nullptr;
        rung["step_over_ground_dE00"] = r.step_over_ground;
        rung["step_over_white_dE00"] = r.step_over_white;
        put_colour(rung, "masstone", r.masstone);
        put_colour(rung, "over_white", r.over_white);
        put_colour(rung, "over_black", r.over_black);
        put_colour(rung, "over_ground", r.over_ground);
        if (r.flakes) put_flakes(rung, r);
        json["rungs"].push_back(rung);
    }
    if (shows_flakes(ladder)) json["sentences"] = milk_sentences(ladder);
    return json.dump(2) + "\n";
}

}  // namespace fadewright::report
