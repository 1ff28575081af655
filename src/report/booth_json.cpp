// The booth sheet for machines and spreadsheets.

#include "booth_passes.h"
#include "booth_words.h"
#include "fadewright/base/contract.h"
#include "fadewright/report/shown.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

namespace fadewright::report {
namespace {

using Json = nlohmann::ordered_json;

Json seconds_json(Seconds wait) {
    return std::isfinite(wait.value) ? Json(std::round(wait.value)) : Json(nullptr);
}

Json coat_json(const BoothSheet& sheet, std::size_t index) {
    const plan::CoatAmounts& coat = sheet.amounts.coats[index];
    Json json{{"name", coat.name},
              {"mix", coat.mix},
              {"film_um", millionths(coat.film.value)},
              {"dry_mL", millionths(coat.dry.value)},
              {"sprayed_mL", millionths(coat.sprayed().value)},
              {"landed_mL", millionths(coat.landed.value)},
              {"in_air_mL", millionths(coat.in_air.value)},
              {"beside_mL", millionths(coat.beside.value)},
              {"on_masks_mL", millionths(coat.on_masks.value)},
              {"cards_mL", millionths(coat.cards.value)},
              {"transfer_is_said", coat.transfer_is_said},
              {"passes", coat.passes},
              {"gun_seconds", millionths(coat.gun_time.value)}};
    json["wait_seconds"] = {{"flash", seconds_json(sheet.waits[index].flash)},
                            {"next_coat", seconds_json(sheet.waits[index].recoat)},
                            {"tape", seconds_json(sheet.waits[index].tape)}};
    json["settings"] = Json::object();
    for (const auto& [name, value] : gun_settings(sheet, index)) json["settings"][name] = value;
    json["rows"] = Json::array();
    for (const PassGroup& group : pass_groups(sheet.job.coats[index], sheet.job.panel, sheet.job.units))
        json["rows"].push_back({{"first", group.first},
                                {"last", group.last},
                                {"where", group.where},
                                {"speed", group.speed},
                                {"repeats", group.repeats}});
    json["look_for"] = look_for(sheet, index);
    return json;
}

Json mix_json(const plan::MixAmounts& mix) {
    Json json{{"name", mix.name},
              {"coats", mix.coats},
              {"cups", mix.cups},
              {"sprayable_mL", millionths(mix.sprayable().value)},
              {"unthinned_mL", millionths(mix.unthinned().value)},
              {"needed_mL", millionths(mix.needed().value)},
              {"grams", millionths(mix.grams().value)},
              {"solids", millionths(mix.paint.solids.value)},
              {"binder_g_per_litre", millionths(mix.paint.binder_g_per_litre)}};
    json["balance_mL"] = {
        {"landed", millionths(mix.landed.value)},    {"lost", millionths(mix.lost.value)},
        {"cards", millionths(mix.cards.value)},      {"held", millionths(mix.held.value)},
        {"waste", millionths(mix.waste.value)},      {"reserve", millionths(mix.reserve.value)},
        {"rounding", millionths(mix.rounding.value)}};
    for (const plan::Poured& p : mix.poured)
        json["pour"].push_back({{"paint", p.paint->id},
                                {"parts", millionths(p.parts)},
                                {"share_of_mix", millionths(p.of_mix.value)},
                                {"share_of_paint", millionths(p.of_paint.value)},
                                {"mL", millionths(p.volume.value)},
                                {"exact_g", millionths(p.exact.value)},
                                {"grams", millionths(p.grams.value)},
                                {"scale_reads_g", millionths(p.reads.value)},
                                {"weighing_error", millionths(p.error.value)},
                                {"coarse", p.is_coarse()}});
    for (const plan::Within& within : mix.holds)
        json["holds_mL"][within.mix] = millionths(within.volume.value);
    if (mix.to_weigh) json["smallest_batch_mL"] = millionths(mix.to_weigh->value);
    return json;
}

// Quoted, as RFC 4180 has it, where it must be.
std::string cell(const std::string& text) {
    if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
    std::string out = "\"";
    for (const char c : text) {
        if (c == '"') out += '"';
        out += c;
    }
    return out + "\"";
}

}  // namespace

std::string sheet_json(const BoothSheet& sheet) {
    FW_EXPECTS(sheet.job.units.system() == UnitSystem::metric);
    Json json;
    json["title"] = sheet.title;
    json["plan_sha256"] = sheet.job.hash;
    json["coats"] = Json::array();
    for (std::size_t i = 0; i < sheet.amounts.coats.size(); ++i) json["coats"].push_back(coat_json(sheet, i));
    json["mixes"] = Json::array();
    for (const plan::MixAmounts& mix : sheet.amounts.mixes) json["mixes"].push_back(mix_json(mix));
    json["shopping"] = Json::array();
    for (const plan::Bought& b : sheet.amounts.shopping) {
        json["shopping"].push_back({{"paint", b.paint->id},
                                    {"mL", millionths(b.volume.value)},
                                    {"grams", millionths(b.grams.value)}});
        if (b.cost) json["shopping"].back()["cost"] = millionths(*b.cost);
    }
    if (const auto cost = sheet.amounts.cost()) json["cost"] = millionths(*cost);
    json["cautions"] = cautions(sheet.amounts.mixing);
    return json.dump(2) + "\n";
}

std::string sheet_csv(const BoothSheet& sheet) {
    const ShownUnits units = sheet.job.units;
    std::string volume(units.name<Millilitres>());
    std::replace(volume.begin(), volume.end(), ' ', '_');
    std::string out = fmt::format(
        "mix,order,paint,parts,percent_of_mix,percent_of_paint,{},grams,scale_reads_g,error_percent\n",
        volume);
    for (const plan::MixAmounts& mix : sheet.amounts.mixes) {
        int order = 0;
        for (const plan::Poured& p : mix.poured)
            out += fmt::format("{},{},{},{},{:.4f},{:.4f},{:.4f},{},{},{:.2f}\n", cell(mix.name), ++order,
                               cell(p.paint->id), parts_text(p.parts), 100 * p.of_mix.value,
                               100 * p.of_paint.value, units.number(p.volume),
                               grams_text(p.grams, sheet.amounts.mixing.scale),
                               grams_text(p.reads, sheet.amounts.mixing.scale), 100 * p.error.value);
    }
    return out;
}

}  // namespace fadewright::report
