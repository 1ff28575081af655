#include "fadewright/report/repair_report.h"

#include "booth_words.h"

#include "fadewright/colour/words.h"
#include "fadewright/report/shown.h"
#include "fadewright/text/schema.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <nlohmann/json.hpp>

namespace fadewright::report {
namespace {

using Json = nlohmann::ordered_json;
using render::CoatKind;
using render::Repair;
using render::RepairCoat;
using render::RepairMix;
using render::Touch;

constexpr std::array<std::string_view, 5> kKinds{"solid", "see-through", "candy", "effect", "clear"};

std::string_view kind_word(CoatKind kind) { return kKinds[static_cast<std::size_t>(kind)]; }

Millimetres from_middle(const Repair& repair, const RepairCoat& coat) {
    return 0.5 * repair.asked.across + coat.reach;
}

// What to do with a coat (common practice, no source: render/repair.h).
std::string touch_words(const Repair& repair, const RepairCoat& coat, ShownUnits units) {
    const std::string edge = units.text(repair.to_edge);
    switch (coat.kind) {
        case CoatKind::clear:
            return "clear: over the whole panel, or to a break line";
        case CoatKind::effect:
            return "flakes: blend it over the whole panel, or what lies at the spot shows from every angle";
        case CoatKind::candy:
            return fmt::format(
                "candy: over the whole panel, or as far as the nearest edge, {} away; where it "
                "laps it is darker",
                edge);
        case CoatKind::see_through:
        case CoatKind::solid:
            break;
    }
    if (coat.touch == Touch::panel) return "its fade would not fit on the panel: over the whole panel";
    std::string out =
        fmt::format("spot: fade it out to nothing {} from the middle", units.text(from_middle(repair, coat)));
    if (from_middle(repair, coat) > repair.to_edge)
        out += fmt::format("; the edge is {} away, run it out over that", edge);
    return out;
}

std::string coat_rows(const Repair& repair, ShownUnits units) {
    std::size_t name = 4;
    for (const RepairCoat& coat : repair.coats) name = std::max(name, coat.name.size());
    std::string out =
        fmt::format("{:<{}}  {:<11} {:>8} {:>15} {:>12}\n", "coat", name, "kind",
                    fmt::format("film {}", units.name<Micrometres>()), "over the spot", "its error dE");
    for (const RepairCoat& coat : repair.coats) {
        out += fmt::format("{:<{}}  {:<11} {:>8} {:>6} to {:>5} {:>12.2f}\n", coat.name, name,
                           kind_word(coat.kind), units.figure(coat.film, 1), units.figure(coat.least, 1),
                           units.figure(coat.most, 1), coat.film_dE);
    }
    for (const RepairCoat& coat : repair.coats) {
        out += fmt::format("  {}: {}\n", coat.name, touch_words(repair, coat, units));
        if (coat.readings > 0)
            out += fmt::format("    film as read ({} {})\n", coat.readings,
                               coat.readings == 1 ? "reading" : "readings");
    }
    return out;
}

std::string fade_words(const Repair& repair, ShownUnits units) {
    std::string out = fmt::format("mixes {:.2g} dE00 apart and films {:.0f} % off: {:.2f} dE00\n",
                                  repair.asked.mismatch, 100 * repair.asked.film_error.value, repair.dE);
    const auto faded = std::count_if(repair.coats.begin(), repair.coats.end(), [](const RepairCoat& coat) {
        return coat.kind == CoatKind::solid || coat.kind == CoatKind::see_through;
    });
    if (repair.lap_dE > 0) {
        out += fmt::format("where new paint runs out over old: up to {:.2f} dE00", repair.lap_dE);
        if (faded > 1)
            out += repair.stepped ? ", least if each coat reaches further than the last"
                                  : ", least if all coats reach equally far";
        out += "\n";
    }
    if (repair.fade.value == 0)
        return out + "no edge is seen from the plan's viewing distance, however sharp\n";
    out += fmt::format(
        "no edge is seen from the plan's viewing distance if it fades away over {} or more; a "
        "trained eye needs twice that\n",
        units.text(repair.fade));
    if (!repair.fits) out += "that does not fit on the panel: no spot repair here\n";
    return out;
}

std::string recipe(const RepairMix& mix, const plan::Mixing& mixing, ShownUnits units) {
    const auto of = [units](Millilitres amount) { return amount_text(amount, units); };
    std::string out =
        fmt::format("\n{}: mix {} ({}), for {}\n", mix.name, of(mix.to_mix),
                    mix.poured_on.empty() ? "as planned" : "as poured on " + mix.poured_on.substr(0, 10),
                    reading::joined(mix.coats, ", "));
    std::size_t width = 18;
    for (const plan::Poured& p : mix.poured) width = std::max(width, p.paint->id.size());
    out += fmt::format("  {:<{}}  {:>9} {:>12}\n", "pour in this order", width, "grams", "scale reads");
    for (const plan::Poured& p : mix.poured)
        out += fmt::format("  {:<{}}  {:>9} {:>12}\n", p.paint->id, width, grams_text(p.grams, mixing.scale),
                           grams_text(p.reads, mixing.scale));
    out += fmt::format("  of {} needed {} lands, {} is lost, {} for a card, {} stays in the gun, {} waste\n",
                       of(mix.needed()), of(mix.landed), of(mix.lost), of(mix.cards), of(mix.held),
                       of(mix.waste));
    if (mix.for_scale)
        out += fmt::format("  less cannot be weighed within {:.0f} % on a scale that shows {}\n",
                           100 * plan::kCoarseWeighing.value, units.as_given(mixing.scale));
    if (mix.reducer_as_planned) out += "  no reducer was recorded: as planned\n";
    return out;
}

Json coat_json(const Repair& repair, const RepairCoat& coat) {
    return {{"name", coat.name},
            {"mix", coat.mix},
            {"kind", kind_word(coat.kind)},
            {"touch", coat.touch == Touch::spot ? "spot" : "panel"},
            {"film_um", millionths(coat.film.value)},
            {"film_over_spot_um", {millionths(coat.least.value), millionths(coat.most.value)}},
            {"readings", coat.readings},
            {"film_dE00", millionths(coat.film_dE)},
            {"fades_out_mm",
             coat.touch == Touch::spot ? Json(millionths(from_middle(repair, coat).value)) : Json(nullptr)},
            {"landed_mL", millionths(coat.landed.value)},
            {"lost_mL", millionths(coat.lost.value)},
            {"what_to_do", touch_words(repair, coat, UnitSystem::metric)}};
}

Json mix_json(const RepairMix& mix) {
    Json json{{"name", mix.name},
              {"coats", mix.coats},
              {"poured_on", mix.poured_on.empty() ? Json(nullptr) : Json(mix.poured_on)},
              {"reducer_as_planned", mix.reducer_as_planned},
              {"needed_mL", millionths(mix.needed().value)},
              {"mix_mL", millionths(mix.to_mix.value)},
              {"more_for_the_scale", mix.for_scale}};
    json["balance_mL"] = {{"landed", millionths(mix.landed.value)},
                          {"lost", millionths(mix.lost.value)},
                          {"cards", millionths(mix.cards.value)},
                          {"held", millionths(mix.held.value)},
                          {"waste", millionths(mix.waste.value)}};
    for (const plan::Poured& p : mix.poured)
        json["pour"].push_back({{"paint", p.paint->id},
                                {"grams", millionths(p.grams.value)},
                                {"scale_reads_g", millionths(p.reads.value)},
                                {"weighing_error", millionths(p.error.value)}});
    return json;
}

}  // namespace

std::string repair_words(const RepairTold& told) {
    const Repair& repair = told.repair;
    std::string out = told.title.empty() ? "" : told.title + "\n";
    out +=
        fmt::format("repair of {} across at {}, {}, by {}\n", told.units.text(repair.asked.across),
                    told.units.as_given(repair.asked.at.x), told.units.as_given(repair.asked.at.y), told.by);
    out += fmt::format("there it is {} (L* a* b* {})\n\n", colour::colour_words(repair.lab),
                       lab_text(repair.lab));
    out += "Spray a card first, every coat of it, and hold it beside the damage in daylight.\n\n";
    out += coat_rows(repair, told.units) + "\n" + fade_words(repair, told.units);
    for (const RepairMix& mix : repair.mixes) out += recipe(mix, told.mixing, told.units);
    for (const std::string& remark : repair.remarks) out += remark + "\n";
    out +=
        "\nSolid, candy, flakes and clear are treated by common practice; mismatch, film error and what is "
        "lost "
        "are starting values.\n";
    return out;
}

std::string repair_json(const RepairTold& told) {
    const Repair& repair = told.repair;
    Json json{{"title", told.title},
              {"by", told.by},
              {"at_mm", {repair.asked.at.x.value, repair.asked.at.y.value}},
              {"across_mm", repair.asked.across.value}};
    put_colour(json, "colour", repair.lab);
    json["spray_a_card_first"] = true;
    json["mismatch_dE00"] = repair.asked.mismatch;
    json["film_error"] = repair.asked.film_error.value;
    json["dE00"] = millionths(repair.dE);
    json["lap_dE00"] = millionths(repair.lap_dE);
    json["each_coat_further"] = repair.stepped;
    json["contrast"] = millionths(repair.contrast);
    json["fade_mm"] = millionths(repair.fade.value);
    json["fits"] = repair.fits;
    json["to_edge_mm"] = millionths(repair.to_edge.value);
    json["coats"] = Json::array();
    for (const RepairCoat& coat : repair.coats) json["coats"].push_back(coat_json(repair, coat));
    json["mixes"] = Json::array();
    for (const RepairMix& mix : repair.mixes) json["mixes"].push_back(mix_json(mix));
    json["remarks"] = repair.remarks;
    return json.dump(2, ' ', false, nlohmann::json::error_handler_t::replace) + "\n";
}

}  // namespace fadewright::report
