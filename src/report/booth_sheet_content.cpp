#include "booth_sheet_content.h"

#include "fadewright/film/flake_layer.h"
#include "fadewright/film/wet_flakes.h"
#include "fadewright/production/coverage.h"
#include "fadewright/report/cautions.h"
#include "fadewright/report/format.h"
#include "fadewright/report/phrases.h"
#include "fadewright/report/phrases_amounts.h"
#include "fadewright/report/phrases_defects.h"
#include "fadewright/report/phrases_flakes.h"
#include "fadewright/spray/footprint.h"

#include <fmt/core.h>

#include <algorithm>
#include <cctype>
#include <cmath>

namespace fadewright::report {
namespace {

constexpr double kSecondsPerMinute = 60, kMinutesPerHour = 60;

int decimals_of(Grams division) {
    return std::clamp(static_cast<int>(std::ceil(-std::log10(division.value) - 1e-9)), 0, 4);
}

std::string capitalized(std::string text) {
    text.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(text.front())));
    return text;
}

// For a coat whose flakes are noticeably less aligned than in a usual one (film/wet_flakes.h).
std::string wet_flakes_text(const plan::ResolvedCoat& coat, Micrometres wet) {
    constexpr double kNoticed = 1.3;  // times as wet; below, no figure here is that certain
    double wetter = 0;
    for (const paint::EffectPigment& flakes : coat.mix.flakes)
        if (flakes.nominal_wetness.value > 0 && flakes.wet_disorientation.value > 0)
            wetter = std::max(wetter, wet.value / coat.liquid.evaporation / flakes.nominal_wetness.value);
    if (wetter < kNoticed || coat.laydown == plan::Laydown::dots || !coat.deposit) return "";
    return fmt::format(
        "{:.1f}× wetter than usual: flakes will be less aligned (darker face); use more, thinner coats",
        wetter);
}

bool lands_wet(const plan::ResolvedCoat& coat) { return coat.laydown == plan::Laydown::wet; }

}  // namespace

std::string amount_text(Millilitres amount, DisplayUnits units) {
    const Millilitres positive{std::max(0.0, amount.value)};
    return units.text(positive, positive.value < 9.995 ? 2 : positive.value < 99.95 ? 1 : 0);
}

std::string grams_text(Grams amount, Grams division) {
    return fmt::format("{:.{}f}", amount.value, decimals_of(division));
}

std::string percent_text(Share share) {
    const double percent = 100 * share.value;
    return percent < 0.995 ? fmt::format("{:.2f}", percent) : fmt::format("{:.1f}", percent);
}

std::string parts_text(double parts) {
    return parts < 99.95 ? fmt::format("{:.4g}", std::round(100 * parts) / 100)
                         : fmt::format("{:.0f}", parts);
}

std::string drying_time_text(Seconds time) {
    const double minutes = time.value / kSecondsPerMinute;
    constexpr double kFarTooLong = 7 * 24 * 60;
    if (!(minutes < kFarTooLong)) return std::string(kWillNotDry);
    const double step = minutes <= 10 ? 1 : minutes <= 120 ? 5 : 30;
    const auto rounded = static_cast<int>(step * std::ceil(minutes / step - 1e-9));
    const int hours = rounded / static_cast<int>(kMinutesPerHour),
              rest = rounded % static_cast<int>(kMinutesPerHour);
    if (hours == 0) return fmt::format("{} min", rest);
    return rest == 0 ? fmt::format("{} h", hours) : fmt::format("{} h {} min", hours, rest);
}

std::string flake_powder_text(const BoothSheet& sheet, const std::string& mix) {
    const std::vector<plan::ResolvedCoat>& coats = sheet.job.coats;
    const bool flakes = std::any_of(coats.begin(), coats.end(), [&](const plan::ResolvedCoat& coat) {
        return coat.mix_name == mix && film::has_flakes(coat.mix);
    });
    return flakes ? flake_powder_note() : "";
}

std::string cups_text(const production::MixAmounts& mix, const plan::ShopSettings& shop, DisplayUnits units) {
    return fmt::format("{} cup{} of {}", mix.cups, mix.cups == 1 ? "" : "s", units.input_text(shop.cup_size));
}

std::string balance_text(const production::MixAmounts& mix, DisplayUnits units) {
    const auto formatted = [units](Millilitres amount) { return amount_text(amount, units); };
    return fmt::format(
        "{} on the panel, {} lost as overspray, off the edge and on masks, {} on test cards, "
        "{} left in the gun, {} waste, {} kept for repairs, {} rounding",
        formatted(mix.on_panel), formatted(mix.lost), formatted(mix.test_cards), formatted(mix.left_in_gun),
        formatted(mix.waste), formatted(mix.reserve), formatted(mix.rounding));
}

std::string scale_warning(const production::MixAmounts& mix, const plan::ShopSettings& shop,
                          DisplayUnits units) {
    std::string names;
    for (const production::RecipeLine& p : mix.recipe)
        if (p.is_coarse())
            names += fmt::format("{}{} (error up to {:.0f} %)", names.empty() ? "" : ", ", p.paint->id,
                                 std::ceil(100 * p.error.value));
    if (names.empty()) return "";
    return fmt::format("your scale is too coarse for {}: mix {} at once, or use a scale finer than {}", names,
                       amount_text(mix.weighable_batch.value_or(mix.sprayable()), units),
                       units.input_text(shop.scale));
}

std::string contained_mixes_text(const production::MixAmounts& mix, DisplayUnits units) {
    std::string out;
    for (const production::SubMix& contained : mix.sub_mixes)
        out += fmt::format("{} {} of '{}'", out.empty() ? "contains" : " and",
                           amount_text(contained.volume, units), contained.mix);
    if (mix.sub_mixes.size() > 1) return out + ": if those are already mixed, pour them first";
    return out.empty() ? out : out + ": if that is already mixed, pour it first";
}

std::string solids_text(const production::MixAmounts& mix, DisplayUnits units) {
    std::string out;
    for (const production::RecipeLine& p : mix.recipe)
        if (p.is_reducer())
            out += fmt::format("reduced {} % of paint = {} % of mix; ", percent_text(p.share_of_paint),
                               percent_text(p.share_of_mix));
    return out + fmt::format("{:.0f} % solids, binder {}", 100 * mix.paint.solids.value,
                             units.text(GramsPerLitre{mix.paint.binder_g_per_litre}));
}

std::string stir_text(const BoothSheet& sheet, const std::string& mix) {
    const std::vector<plan::ResolvedCoat>& coats = sheet.job.coats;
    const auto coat = std::find_if(coats.begin(), coats.end(),
                                   [&](const plan::ResolvedCoat& c) { return c.mix_name == mix; });
    if (coat == coats.end()) return "";
    if (!film::has_flakes(coat->mix)) return "";
    const std::string text = describe_stirring(
        film::stir_interval(coat->mix.flakes, coat->mix.wet_density, coat->liquid.paint.viscosity_mPa_s));
    return coat->liquid.flow_cup_given ? text : text + " (viscosity assumed: check it with a flow cup)";
}

std::string even_coat_text(const plan::ResolvedCoat& coat, const production::CoatAmounts& amounts,
                           DisplayUnits units) {
    return fmt::format("Even coat, {} dry ({} wet), about {} sprayed", units.input_text(coat.even_film),
                       units.text(Micrometres{coat.even_film.value / coat.mix.solids.value}),
                       amount_text(amounts.sprayed(), units));
}

std::string passes_text(const production::CoatAmounts& amounts, DisplayUnits units) {
    return fmt::format("{}, {} trigger time, about {} sprayed", pass_count_text(amounts.passes),
                       duration_text(amounts.trigger_time), amount_text(amounts.sprayed(), units));
}

std::vector<Setting> gun_settings(const BoothSheet& sheet, std::size_t index) {
    const plan::ResolvedCoat& coat = sheet.job.coats[index];
    const DisplayUnits units = sheet.job.units;
    std::vector<Setting> settings;
    if (!coat.gun) return settings;
    const spray::Gun& gun = *coat.gun;
    settings.emplace_back("Gun", gun.title.empty() ? coat.gun_name : gun.title);
    if (gun.air.value > 0) settings.emplace_back("Air", units.round_to_digits(gun.air, 2));
    settings.emplace_back("Flow", units.round_to_digits(gun.flow, 3));
    settings.emplace_back("Distance", units.text(coat.distance));
    if (coat.passes.empty()) return settings;
    double slow = coat.passes.front().speed.value, fast = slow;
    bool moves = false;
    for (const spray::Pass& pass : coat.passes) {
        if (pass.dwell.value > 0) continue;
        moves = true;
        slow = std::min(slow, pass.speed.value);
        fast = std::max(fast, pass.speed.value);
    }
    if (moves)
        settings.emplace_back(
            "Speed", fast - slow < 1 ? units.text(MillimetresPerSecond{fast})
                                     : units.range(MillimetresPerSecond{slow}, MillimetresPerSecond{fast}));
    const double width = spray::pass_width(gun, coat.distance).value;
    double closest = 0;
    for (const assess::Striping& stripes : assess::find_striping(coat))
        closest = closest == 0 ? stripes.spacing.value : std::min(closest, stripes.spacing.value);
    if (closest > 0 && closest < width)
        settings.emplace_back("Overlap", fmt::format("{:.0f} %", 100 * (1 - closest / width)));
    return settings;
}

std::vector<std::string> checkpoints(const BoothSheet& sheet, std::size_t index) {
    const plan::ResolvedCoat& coat = sheet.job.coats[index];
    const production::CoatAmounts& amounts = sheet.amounts.coats[index];
    std::vector<std::string> lines;
    const DisplayUnits units = sheet.job.units;
    lines.push_back(fmt::format("Film about {} wet, {} dry where most of the paint lands",
                                units.text(production::wet_film_of(amounts.film, coat.mix.solids)),
                                units.text(amounts.film, 1)));
    if (coat.clear)
        lines.push_back(fmt::format("{} dry is {}", units.text(amounts.film),
                                    clear_film_label(production::rate_clear_film(amounts.film))));
    if (!lands_wet(coat))
        lines.push_back(
            coat.laydown == plan::Laydown::dots
                ? fmt::format("Fog: must stay as dry dots, each about {} dry; do not let it wet out",
                              units.text(coat.splat, 1))
                : "Dry dots where it is thin, flows together where it is full");
    const Micrometres of_passes = production::wet_film_of(amounts.film - coat.even_film, coat.mix.solids);
    if (const std::string wet_flakes = wet_flakes_text(coat, of_passes); !wet_flakes.empty())
        lines.push_back(wet_flakes);
    if (const std::string stir = stir_text(sheet, coat.mix_name); !stir.empty())
        lines.push_back(capitalized(stir));
    for (assess::Defect defect : significant_defects(sheet.defects)) {
        if (defect.coat != coat.name) continue;
        defect.coat.clear();  // the page names the coat
        lines.push_back(defect_text(defect, units));
    }
    return lines;
}

std::vector<std::string> safety_lines(const plan::ShopSettings& shop) { return cautions(shop.safety_extra); }

std::vector<CoatGroup> coat_groups(const BoothSheet& sheet) {
    std::vector<CoatGroup> groups;
    const std::vector<plan::ResolvedCoat>& coats = sheet.job.coats;
    for (std::size_t i = 0; i < coats.size(); ++i) {
        const bool continues_group =
            i > 0 && coats[i].mix_name == coats[i - 1].mix_name && coats[i].gun_name == coats[i - 1].gun_name;
        if (continues_group) {
            groups.back().end = i + 1;
        } else {
            groups.push_back({i, i + 1});
        }
    }
    return groups;
}

BoothSheet make_booth_sheet(const plan::Plan& plan, plan::Job job, plan::Library& library) {
    BoothSheet sheet;
    sheet.title = plan.title;
    sheet.amounts = production::amounts_of(plan, job, library);
    for (std::size_t i = 0; i < job.coats.size(); ++i)
        sheet.drying_times.push_back(
            production::dry_times(job.coats[i], sheet.amounts.coats[i].film, job.booth, plan.mixing));
    sheet.defects = assess::list_defects(job);
    sheet.job = std::move(job);
    return sheet;
}

}  // namespace fadewright::report
