#include "booth_words.h"

#include "fadewright/plan/quantities.h"
#include "fadewright/report/flake_look.h"
#include "fadewright/report/overlay.h"
#include "fadewright/spray/footprint.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>

namespace fadewright::report {
namespace {

constexpr double kSecondsPerMinute = 60, kMinutesPerHour = 60;

int decimals_of(Grams division) {
    return std::clamp(static_cast<int>(std::ceil(-std::log10(division.value) - 1e-9)), 0, 4);
}

constexpr std::array<std::string_view, 8> kCautions{
    "Two-pack paint holds isocyanates: air-fed breathing protection, no filter mask",
    "All spray harms lungs, waterborne too: protect as the safety data sheet says",
    "Sanding dust of boards and paint: extract it at the tool, do not breathe it",
    "Solvents and overspray burn: no flame, spark or hot lamp; ground the gear",
    "Ventilate before, during and after; gloves on, eyes covered",
    "Rags in a closed metal can; leftovers and filters handed in, never the drain",
    "Helmets and other rated gear: ask the maker before anything touches them",
    "Local codes, safety data sheets and licensed practice decide; this sheet does not"};

std::string capital(std::string words) {
    words.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(words.front())));
    return words;
}

// Of a coat whose flakes lie noticeably wider than in an ordinary one (film/flake_lie.h).
std::string loose_flakes_words(const plan::ReadyCoat& coat, Micrometres wet) {
    constexpr double noticed = 1.3;  // times as wet; below, no figure here is that sure
    double wetter = 0;
    for (const paint::Flakes& flakes : coat.mix.flakes)
        if (flakes.usual_wet.value > 0 && flakes.loosening.value > 0)
            wetter = std::max(wetter, wet.value / coat.liquid.evaporation / flakes.usual_wet.value);
    if (wetter < noticed || coat.laydown == plan::Laydown::fog || !coat.deposit) return "";
    return fmt::format(
        "Stays wet {:.1f} times as long as an ordinary coat of it: its flakes lie looser, darker near the "
        "shine; "
        "more, thinner coats lie brighter",
        wetter);
}

bool wet_together(const plan::ReadyCoat& coat) { return coat.laydown == plan::Laydown::wet; }

}  // namespace

std::string amount_text(Millilitres amount, ShownUnits units) {
    const Millilitres shown{std::max(0.0, amount.value)};
    return units.text(shown, shown.value < 9.995 ? 2 : shown.value < 99.95 ? 1 : 0);
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

std::string wait_text(Seconds wait) {
    const double minutes = wait.value / kSecondsPerMinute;
    constexpr double kFarTooLong = 7 * 24 * 60;
    if (!(minutes < kFarTooLong)) return "never in this air";
    const double step = minutes <= 10 ? 1 : minutes <= 120 ? 5 : 30;
    const auto rounded = static_cast<int>(step * std::ceil(minutes / step - 1e-9));
    const int hours = rounded / static_cast<int>(kMinutesPerHour),
              rest = rounded % static_cast<int>(kMinutesPerHour);
    if (hours == 0) return fmt::format("{} min", rest);
    return rest == 0 ? fmt::format("{} h", hours) : fmt::format("{} h {} min", hours, rest);
}

std::string time_text(Seconds time) {
    const auto seconds = static_cast<int>(std::ceil(time.value - 1e-9));
    return fmt::format("{}:{:02}", seconds / 60, seconds % 60);
}

std::string cups_text(const plan::MixAmounts& mix, const plan::Mixing& mixing, ShownUnits units) {
    return fmt::format("{} cup{} of {}", mix.cups, mix.cups == 1 ? "" : "s", units.as_given(mixing.cup));
}

std::string balance_text(const plan::MixAmounts& mix, ShownUnits units) {
    const auto of = [units](Millilitres amount) { return amount_text(amount, units); };
    return fmt::format(
        "{} lands, {} is lost in the air, beside and on masks, {} goes on test cards, {} stays in cup and "
        "line, {} is "
        "waste, {} is kept for repairs, {} comes from rounding up",
        of(mix.landed), of(mix.lost), of(mix.cards), of(mix.held), of(mix.waste), of(mix.reserve),
        of(mix.rounding));
}

std::string scale_warning(const plan::MixAmounts& mix, const plan::Mixing& mixing, ShownUnits units) {
    std::string names;
    for (const plan::Poured& p : mix.poured)
        if (p.is_coarse())
            names += fmt::format("{}{} within {:.0f} %", names.empty() ? "" : ", ", p.paint->id,
                                 std::ceil(100 * p.error.value));
    if (names.empty()) return "";
    return fmt::format("the scale is coarse for {}: mix {} at once, or weigh finer than {}", names,
                       amount_text(mix.to_weigh.value_or(mix.sprayable()), units),
                       units.as_given(mixing.scale));
}

std::string within_text(const plan::MixAmounts& mix, ShownUnits units) {
    std::string out;
    for (const plan::Within& within : mix.holds)
        out += fmt::format("{} {} of '{}'", out.empty() ? "holds" : " and", amount_text(within.volume, units),
                           within.mix);
    return out.empty() ? out : out + ": pour those if they are mixed already, then the rest";
}

std::string binder_text(const plan::MixAmounts& mix, ShownUnits units) {
    std::string out;
    for (const plan::Poured& p : mix.poured)
        if (p.thins())
            out += fmt::format("reduced {} % of paint = {} % of mix; ", percent_text(p.of_paint),
                               percent_text(p.of_mix));
    return out + fmt::format("{:.0f} % solids, {} {} of binder in a {}", 100 * mix.paint.solids.value,
                             units.figure(GramsPerLitre{mix.paint.binder_g_per_litre}), units.grams(),
                             units.litre());
}

std::string stir_text(const BoothSheet& sheet, const std::string& mix) {
    const std::vector<plan::ReadyCoat>& coats = sheet.job.coats;
    const auto coat =
        std::find_if(coats.begin(), coats.end(), [&](const plan::ReadyCoat& c) { return c.mix_name == mix; });
    if (coat == coats.end()) return "";
    std::string words = stir_words(coat->mix, coat->liquid.paint.viscosity_mPa_s);
    if (words.empty() || coat->liquid.cup_given) return words;
    return words + " (viscosity supposed: time the cup)";
}

std::string cover_words(const plan::ReadyCoat& coat, const plan::CoatAmounts& amounts, ShownUnits units) {
    return fmt::format("Evenly all over, {} dry ({} wet); about {} leave the gun", units.as_given(coat.cover),
                       units.text(Micrometres{coat.cover.value / coat.mix.solids.value}),
                       amount_text(amounts.sprayed(), units));
}

std::string passes_words(const plan::CoatAmounts& amounts, ShownUnits units) {
    return fmt::format("{} pass{}, {} min at the gun, about {}", amounts.passes,
                       amounts.passes == 1 ? "" : "es", time_text(amounts.gun_time),
                       amount_text(amounts.sprayed(), units));
}

std::vector<Setting> gun_settings(const BoothSheet& sheet, std::size_t index) {
    const plan::ReadyCoat& coat = sheet.job.coats[index];
    const ShownUnits units = sheet.job.units;
    std::vector<Setting> settings;
    if (!coat.gun) return settings;
    const spray::Gun& gun = *coat.gun;
    settings.emplace_back("Gun", gun.title.empty() ? coat.gun_name : gun.title);
    if (gun.air.value > 0) settings.emplace_back("Air", units.rounded(gun.air, 2));
    settings.emplace_back("Flow", units.rounded(gun.flow, 3));
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
    for (const render::Stripes& train : render::stripes(coat))
        closest = closest == 0 ? train.spacing.value : std::min(closest, train.spacing.value);
    if (closest > 0 && closest < width)
        settings.emplace_back("Overlap", fmt::format("{:.0f} %", 100 * (1 - closest / width)));
    return settings;
}

std::vector<std::string> look_for(const BoothSheet& sheet, std::size_t index) {
    const plan::ReadyCoat& coat = sheet.job.coats[index];
    const plan::CoatAmounts& amounts = sheet.amounts.coats[index];
    std::vector<std::string> lines;
    const ShownUnits units = sheet.job.units;
    lines.push_back(fmt::format("Film about {} wet, {} dry where most of it lies",
                                units.text(plan::wet_film_of(amounts.film, coat.mix.solids)),
                                units.text(amounts.film, 1)));
    if (coat.clear)
        lines.push_back(
            fmt::format("{} dry is {}", units.text(amounts.film), plan::clear_film_words(amounts.film)));
    if (!wet_together(coat))
        lines.push_back(coat.laydown == plan::Laydown::fog
                            ? fmt::format("Fog: dots that dry apart, each about {} dry; it must not turn wet",
                                          units.text(coat.splat, 1))
                            : "Dots where it is thin, joined where it is full");
    const Micrometres of_passes = plan::wet_film_of(amounts.film - coat.cover, coat.mix.solids);
    if (const std::string loose = loose_flakes_words(coat, of_passes); !loose.empty()) lines.push_back(loose);
    if (const std::string stir = stir_text(sheet, coat.mix_name); !stir.empty())
        lines.push_back(capital(stir));
    for (render::Fault fault : pressing(sheet.faults)) {
        if (fault.coat != coat.name) continue;
        fault.coat.clear();  // the page says which coat it is
        lines.push_back(fault_line(fault));
    }
    return lines;
}

std::vector<std::string> cautions(const plan::Mixing& mixing) {
    if (!mixing.safety.empty()) return mixing.safety;
    return {kCautions.begin(), kCautions.end()};
}

std::vector<CoatGroup> coat_groups(const BoothSheet& sheet) {
    std::vector<CoatGroup> groups;
    const std::vector<plan::ReadyCoat>& coats = sheet.job.coats;
    for (std::size_t i = 0; i < coats.size(); ++i) {
        const bool goes_on =
            i > 0 && coats[i].mix_name == coats[i - 1].mix_name && coats[i].gun_name == coats[i - 1].gun_name;
        if (goes_on) {
            groups.back().end = i + 1;
        } else {
            groups.push_back({i, i + 1});
        }
    }
    return groups;
}

}  // namespace fadewright::report
