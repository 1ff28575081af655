// The booth sheet as JSON and as CSV.

#include "booth_sheet_content.h"
#include "fadewright/base/contract.h"
#include "fadewright/base/strings.h"
#include "fadewright/report/format.h"
#include "pass_groups.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

namespace fadewright::report {
namespace {

using Json = nlohmann::ordered_json;

Json seconds_json(Seconds time) {
    return std::isfinite(time.value) ? Json(std::round(time.value)) : Json(nullptr);
}

Json coat_json(const BoothSheet& sheet, std::size_t index) {
    const production::CoatAmounts& coat = sheet.amounts.coats[index];
    Json json{{"name", coat.name},
              {"mix", coat.mix},
              {"film_um", round_to_millionths(coat.film.value)},
              {"dry_mL", round_to_millionths(coat.dry.value)},
              {"sprayed_mL", round_to_millionths(coat.sprayed().value)},
              {"on_panel_mL", round_to_millionths(coat.on_panel.value)},
              {"overspray_mL", round_to_millionths(coat.overspray.value)},
              {"off_edge_mL", round_to_millionths(coat.off_edge.value)},
              {"on_masks_mL", round_to_millionths(coat.on_masks.value)},
              {"test_cards_mL", round_to_millionths(coat.test_cards.value)},
              {"efficiency_assumed", coat.efficiency_assumed},
              {"passes", coat.passes},
              {"trigger_seconds", round_to_millionths(coat.trigger_time.value)}};
    json["drying_seconds"] = {{"flash", seconds_json(sheet.drying_times[index].flash)},
                              {"recoat", seconds_json(sheet.drying_times[index].recoat)},
                              {"tape", seconds_json(sheet.drying_times[index].tape)}};
    json["settings"] = Json::object();
    for (const auto& [name, value] : gun_settings(sheet, index)) json["settings"][name] = value;
    json["rows"] = Json::array();
    for (const PassGroup& group : pass_groups(sheet.job.coats[index], sheet.job.panel, sheet.job.units))
        json["rows"].push_back({{"first", group.first},
                                {"last", group.last},
                                {"position", group.position},
                                {"speed", group.speed},
                                {"repeats", group.repeats}});
    json["checkpoints"] = checkpoints(sheet, index);
    return json;
}

Json mix_amounts_json(const production::MixAmounts& mix) {
    Json json{{"name", mix.name},
              {"coats", mix.coats},
              {"cups", mix.cups},
              {"sprayable_mL", round_to_millionths(mix.sprayable().value)},
              {"unreduced_mL", round_to_millionths(mix.unreduced().value)},
              {"needed_mL", round_to_millionths(mix.needed().value)},
              {"grams", round_to_millionths(mix.grams().value)},
              {"solids", round_to_millionths(mix.paint.solids.value)},
              {"binder_g_per_litre", round_to_millionths(mix.paint.binder_g_per_litre)}};
    json["balance_mL"] = {{"on_panel", round_to_millionths(mix.on_panel.value)},
                          {"lost", round_to_millionths(mix.lost.value)},
                          {"test_cards", round_to_millionths(mix.test_cards.value)},
                          {"left_in_gun", round_to_millionths(mix.left_in_gun.value)},
                          {"waste", round_to_millionths(mix.waste.value)},
                          {"reserve", round_to_millionths(mix.reserve.value)},
                          {"rounding", round_to_millionths(mix.rounding.value)}};
    for (const production::RecipeLine& p : mix.recipe)
        json["recipe"].push_back({{"paint", p.paint->id},
                                  {"parts", round_to_millionths(p.parts)},
                                  {"share_of_mix", round_to_millionths(p.share_of_mix.value)},
                                  {"share_of_paint", round_to_millionths(p.share_of_paint.value)},
                                  {"mL", round_to_millionths(p.volume.value)},
                                  {"exact_g", round_to_millionths(p.exact.value)},
                                  {"grams", round_to_millionths(p.grams.value)},
                                  {"running_total_g", round_to_millionths(p.scale_reading.value)},
                                  {"weighing_error", round_to_millionths(p.error.value)},
                                  {"coarse", p.is_coarse()}});
    for (const production::SubMix& contained : mix.sub_mixes)
        json["contains_mL"][contained.mix] = round_to_millionths(contained.volume.value);
    if (mix.weighable_batch) json["smallest_batch_mL"] = round_to_millionths(mix.weighable_batch->value);
    return json;
}

}  // namespace

std::string booth_sheet_json(const BoothSheet& sheet) {
    FW_EXPECTS(sheet.job.units.system() == UnitSystem::metric);
    Json json;
    json["title"] = sheet.title;
    json["plan_sha256"] = sheet.job.hash;
    json["coats"] = Json::array();
    for (std::size_t i = 0; i < sheet.amounts.coats.size(); ++i) json["coats"].push_back(coat_json(sheet, i));
    json["mixes"] = Json::array();
    for (const production::MixAmounts& mix : sheet.amounts.mixes)
        json["mixes"].push_back(mix_amounts_json(mix));
    json["shopping"] = Json::array();
    for (const production::ShoppingItem& b : sheet.amounts.shopping) {
        json["shopping"].push_back({{"paint", b.paint->id},
                                    {"mL", round_to_millionths(b.volume.value)},
                                    {"grams", round_to_millionths(b.grams.value)}});
        if (b.cost) json["shopping"].back()["cost"] = round_to_millionths(*b.cost);
    }
    if (const auto cost = sheet.amounts.cost()) json["cost"] = round_to_millionths(*cost);
    json["safety"] = safety_lines(sheet.amounts.mixing);
    return json.dump(2) + "\n";
}

std::string booth_sheet_csv(const BoothSheet& sheet) {
    const DisplayUnits units = sheet.job.units;
    std::string volume(units.unit_name<Millilitres>());
    std::replace(volume.begin(), volume.end(), ' ', '_');
    std::string out = fmt::format(
        "mix,order,paint,parts,percent_of_mix,percent_of_paint,{},grams,running_total_g,error_percent\n",
        volume);
    for (const production::MixAmounts& mix : sheet.amounts.mixes) {
        int order = 0;
        for (const production::RecipeLine& p : mix.recipe)
            out += fmt::format("{},{},{},{},{:.4f},{:.4f},{:.4f},{},{},{:.2f}\n", csv_cell(mix.name), ++order,
                               csv_cell(p.paint->id), parts_text(p.parts), 100 * p.share_of_mix.value,
                               100 * p.share_of_paint.value, units.value(p.volume),
                               grams_text(p.grams, sheet.amounts.mixing.scale),
                               grams_text(p.scale_reading, sheet.amounts.mixing.scale), 100 * p.error.value);
    }
    return out;
}

}  // namespace fadewright::report
