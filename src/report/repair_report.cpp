#include "fadewright/report/repair_report.h"

#include "booth_sheet_content.h"

#include "fadewright/report/colour_naming.h"
#include "fadewright/report/format.h"
#include "fadewright/report/phrases.h"
#include "fadewright/text/schema.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

namespace fadewright::report {
namespace {

using Json = nlohmann::ordered_json;
using assess::CoatKind;
using assess::Extent;
using assess::Repair;
using assess::RepairCoat;
using assess::RepairMix;

std::string_view coat_kind_label(CoatKind kind) {
    switch (kind) {
        case CoatKind::solid:
            return "solid";
        case CoatKind::transparent:
            return "transparent";
        case CoatKind::candy:
            return "candy";
        case CoatKind::effect:
            return "effect";
        case CoatKind::clear:
            break;
    }
    return "clear";
}

Millimetres blend_out_radius(const Repair& repair, const RepairCoat& coat) {
    return 0.5 * repair.request.diameter + coat.fade_width;
}

// Instructions for a coat (common practice, no source: assess/repair.h).
std::string coat_instructions(const Repair& repair, const RepairCoat& coat, DisplayUnits units) {
    const std::string edge = units.text(repair.nearest_edge);
    switch (coat.kind) {
        case CoatKind::clear:
            return "clear: over the whole panel, or to a break line";
        case CoatKind::effect:
            return "flakes: blend it over the whole panel, or the spot shows at every angle";
        case CoatKind::candy:
            return fmt::format(
                "candy: over the whole panel, or as far as the nearest edge, {} away; where it laps it is "
                "darker",
                edge);
        case CoatKind::transparent:
        case CoatKind::solid:
            break;
    }
    if (coat.extent == Extent::panel) return "the blend does not fit: spray the whole panel";
    std::string out =
        fmt::format("spot: blend it out {} from the centre", units.text(blend_out_radius(repair, coat)));
    if (blend_out_radius(repair, coat) > repair.nearest_edge)
        out += fmt::format("; the edge is {} away: carry it past the edge", edge);
    return out;
}

std::string coat_rows(const Repair& repair, DisplayUnits units) {
    std::size_t name = 4;
    for (const RepairCoat& coat : repair.coats) name = std::max(name, coat.name.size());
    std::string out = fmt::format("{:<{}}  {:<12} {:>11} {:>18} {:>13}\n", "coat", name, "kind",
                                  fmt::format("film {}", units.unit_name<Micrometres>()), "film at the spot",
                                  "ΔE00 of error");
    for (const RepairCoat& coat : repair.coats) {
        out += fmt::format("{:<{}}  {:<12} {:>11} {:>9} to {:>5} {:>13.2f}\n", coat.name, name,
                           coat_kind_label(coat.kind), units.number(coat.film, 1),
                           units.number(coat.min_film, 1), units.number(coat.max_film, 1), coat.film_dE);
    }
    for (const RepairCoat& coat : repair.coats) {
        out += fmt::format("  {}: {}\n", coat.name, coat_instructions(repair, coat, units));
        if (coat.readings > 0)
            out += fmt::format("    measured film ({} {})\n", coat.readings,
                               coat.readings == 1 ? "reading" : "readings");
    }
    return out;
}

std::string blend_text(const Repair& repair, DisplayUnits units) {
    std::string out = fmt::format("remix {:.2g} ΔE00 off and film {:.0f} % off: together {:.2f} ΔE00\n",
                                  repair.request.mismatch, 100 * repair.request.film_error.value, repair.dE);
    const auto faded = std::count_if(repair.coats.begin(), repair.coats.end(), [](const RepairCoat& coat) {
        return coat.kind == CoatKind::solid || coat.kind == CoatKind::transparent;
    });
    if (repair.lap_dE > 0) {
        out += fmt::format("in the blend area: up to {:.2f} ΔE00", repair.lap_dE);
        if (faded > 1)
            out += repair.stepped ? ", smallest if each coat reaches further than the one before"
                                  : ", smallest if all coats reach equally far";
        out += "\n";
    }
    if (repair.fade_width.value == 0)
        return out + "no edge is visible from the plan's viewing distance, however sharp\n";
    out += fmt::format(
        "no edge is visible from the plan's viewing distance if the blend is {} wide or more; a trained eye "
        "needs twice that\n",
        units.text(repair.fade_width));
    if (!repair.fits) out += "the blend does not fit: no spot repair here, spray the whole panel\n";
    return out;
}

std::string recipe(const RepairMix& mix, const plan::ShopSettings& shop, DisplayUnits units) {
    const auto formatted = [units](Millilitres amount) { return amount_text(amount, units); };
    std::string out =
        fmt::format("\n{}: mix {} ({}), for {}\n", mix.name, formatted(mix.to_mix),
                    mix.mixed_on.empty() ? "as planned" : "as mixed on " + mix.mixed_on.substr(0, 10),
                    detail::join_text(mix.coats, ", "));
    std::size_t width = 18;
    for (const production::RecipeLine& p : mix.recipe_lines) width = std::max(width, p.paint->id.size());
    out += fmt::format("  {:<{}}  {:>9} {:>13}\n", "pour in this order", width, "grams", "running total");
    for (const production::RecipeLine& p : mix.recipe_lines)
        out += fmt::format("  {:<{}}  {:>9} {:>13}\n", p.paint->id, width, grams_text(p.grams, shop.scale),
                           grams_text(p.scale_reading, shop.scale));
    out += fmt::format("  {} needed: {} on the panel, {} lost, {} for a card, {} left in the gun, {} waste\n",
                       formatted(mix.needed()), formatted(mix.landed), formatted(mix.lost),
                       formatted(mix.cards), formatted(mix.left_in_gun), formatted(mix.waste));
    if (mix.raised_for_scale)
        out += fmt::format("  less cannot be weighed within {:.0f} % on a scale with {} divisions\n",
                           100 * production::kCoarseWeighing.value, units.input_text(shop.scale));
    if (mix.reducer_as_planned) out += "  no reducer in the job log: as planned\n";
    return out;
}

Json coat_json(const Repair& repair, const RepairCoat& coat) {
    return {{"name", coat.name},
            {"mix", coat.mix},
            {"kind", coat_kind_label(coat.kind)},
            {"extent", coat.extent == Extent::spot ? "spot" : "panel"},
            {"film_um", round_to_millionths(coat.film.value)},
            {"film_over_spot_um",
             {round_to_millionths(coat.min_film.value), round_to_millionths(coat.max_film.value)}},
            {"readings", coat.readings},
            {"film_dE00", round_to_millionths(coat.film_dE)},
            {"blend_out_mm", coat.extent == Extent::spot
                                 ? Json(round_to_millionths(blend_out_radius(repair, coat).value))
                                 : Json(nullptr)},
            {"on_panel_mL", round_to_millionths(coat.landed.value)},
            {"lost_mL", round_to_millionths(coat.lost.value)},
            {"instructions", coat_instructions(repair, coat, UnitSystem::metric)}};
}

Json repair_mix_json(const RepairMix& mix) {
    Json json{{"name", mix.name},
              {"coats", mix.coats},
              {"mixed_on", mix.mixed_on.empty() ? Json(nullptr) : Json(mix.mixed_on)},
              {"reducer_as_planned", mix.reducer_as_planned},
              {"needed_mL", round_to_millionths(mix.needed().value)},
              {"mix_mL", round_to_millionths(mix.to_mix.value)},
              {"rounding_for_scale", mix.raised_for_scale}};
    json["balance_mL"] = {{"on_panel", round_to_millionths(mix.landed.value)},
                          {"lost", round_to_millionths(mix.lost.value)},
                          {"test_cards", round_to_millionths(mix.cards.value)},
                          {"left_in_gun", round_to_millionths(mix.left_in_gun.value)},
                          {"waste", round_to_millionths(mix.waste.value)}};
    for (const production::RecipeLine& p : mix.recipe_lines)
        json["recipe"].push_back({{"paint", p.paint->id},
                                  {"grams", round_to_millionths(p.grams.value)},
                                  {"running_total_g", round_to_millionths(p.scale_reading.value)},
                                  {"weighing_error", round_to_millionths(p.error.value)}});
    return json;
}

}  // namespace

std::string repair_text(const RepairReport& report) {
    const Repair& repair = report.repair;
    std::string out = report.title.empty() ? "" : report.title + "\n";
    out += fmt::format("Spot repair, {} across at {}, {}, based on {}\n",
                       report.units.text(repair.request.diameter),
                       report.units.input_text(repair.request.point.x),
                       report.units.input_text(repair.request.point.y), report.basis);
    out += fmt::format("colour there: {} (L* a* b* {})\n\n", colour_name(repair.lab), lab_text(repair.lab));
    out += "Spray a card first, with every coat, and hold it beside the damage in daylight.\n\n";
    out += coat_rows(repair, report.units) + "\n" + blend_text(repair, report.units);
    for (const RepairMix& mix : repair.mixes) out += recipe(mix, report.mixing, report.units);
    for (const production::UnknownPart& part : repair.unknown_parts)
        out += describe_unknown_part(part) + "\n";
    out +=
        "\nSolid, candy, flakes and clear are treated by common practice; mismatch, film error and losses "
        "are starting values.\n";
    return out;
}

std::string repair_json(const RepairReport& report) {
    const Repair& repair = report.repair;
    Json json{{"title", report.title},
              {"basis", report.basis},
              {"at_mm", {repair.request.point.x.value, repair.request.point.y.value}},
              {"across_mm", repair.request.diameter.value}};
    add_colour_json(json, "colour", repair.lab);
    json["spray_a_card_first"] = true;
    json["mismatch_dE00"] = repair.request.mismatch;
    json["film_error"] = repair.request.film_error.value;
    json["dE00"] = round_to_millionths(repair.dE);
    json["lap_dE00"] = round_to_millionths(repair.lap_dE);
    json["extra_reach_per_coat"] = repair.stepped;
    json["contrast"] = round_to_millionths(repair.contrast);
    json["blend_width_mm"] = round_to_millionths(repair.fade_width.value);
    json["fits"] = repair.fits;
    json["to_edge_mm"] = round_to_millionths(repair.nearest_edge.value);
    json["coats"] = Json::array();
    for (const RepairCoat& coat : repair.coats) json["coats"].push_back(coat_json(repair, coat));
    json["mixes"] = Json::array();
    for (const RepairMix& mix : repair.mixes) json["mixes"].push_back(repair_mix_json(mix));
    json["remarks"] = Json::array();
    for (const production::UnknownPart& part : repair.unknown_parts)
        json["remarks"].push_back(describe_unknown_part(part));
    return json.dump(2, ' ', false, nlohmann::json::error_handler_t::replace) + "\n";
}

}  // namespace fadewright::report
