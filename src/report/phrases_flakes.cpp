#include "fadewright/report/phrases_flakes.h"
#include "fadewright/report/format.h"

#include "fadewright/film/flake_layer.h"
#include "fadewright/formulation/drawdown.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

namespace fadewright::report {
std::string_view evenness_label(const FlakeAppearance& appearance) {
    switch (formulation::rate_evenness(appearance)) {
        case formulation::FlakeEvenness::no_flakes:
            return "no flakes";
        case formulation::FlakeEvenness::even:
            return "even";
        case formulation::FlakeEvenness::barely_even:
            return "barely even";
        case formulation::FlakeEvenness::patchy:
            return "patchy";
        case formulation::FlakeEvenness::single_flakes:
            break;
    }
    return "single flakes";
}

std::string describe_flake_content(const plan::FlakeContent& content, DisplayUnits units) {
    if (content.in_mix.value <= 0) return "no flakes in it";
    return fmt::format("{} {} flake per {} ready to spray ({:.1f} level teaspoons of {}; bulk density {})",
                       units.number(content.in_mix, 1), units.weight_unit_name(), units.volume_unit_name(),
                       units.per_volume_unit(content.level_teaspoons),
                       units.round_to_digits(film::kTeaspoon, 2), units.text(content.bulk_density, 2));
}

std::string flake_powder_note() { return fmt::format("{}. {}.", kFlakePowderNotes[0], kFlakePowderNotes[1]); }

std::string describe_stirring(Seconds interval) {
    constexpr double kMaxMinutes = 240;
    const double minutes = interval.value / 60;
    if (minutes < 1) return "flakes settle fast: keep stirring";
    if (minutes >= kMaxMinutes) return "flakes hardly settle: stir at each fill";
    const double step = minutes < 10 ? 1 : 5;
    return fmt::format("flakes settle: stir every {:.0f} min", step * std::floor(minutes / step));
}

std::string describe_chroma_peak(Degrees aspecular, std::span<const film::MultiAngleColour> over_black,
                                 std::span<const std::string> names) {
    std::vector<colour::Lab> labs;
    for (const film::MultiAngleColour& appearance : over_black) labs.push_back(appearance.at(aspecular));
    const std::string condition = fmt::format("over black at {}", angle_text(aspecular));
    if (const auto best = formulation::chroma_peak(labs))
        return fmt::format(
            "{}: turns milky from {} on: more adds whiteness, not colour (to {} C* falls from {:.1f} to "
            "{:.1f} and L* rises from {:.1f} to {:.1f})",
            condition, names[*best], names.back(), chroma_of(labs[*best]), chroma_of(labs.back()),
            labs[*best].L, labs.back().L);
    return fmt::format("{}: does not turn milky up to {}", condition, names.back());
}

std::string flake_count_text(double number) {
    if (number <= 0) return "0";
    const double step = std::pow(10, std::floor(std::log10(number)) - 2);
    const double rounded = step * std::round(number / step);
    return rounded < 1e6 ? fmt::format("{:.0f}", rounded) : fmt::format("{:.4g} million", rounded / 1e6);
}

std::string angle_text(Degrees aspecular) { return fmt::format("{:g}°", aspecular.value); }

double chroma_of(const colour::Lab& lab) noexcept { return colour::to_lch(lab).C; }

void add_flake_appearance_json(nlohmann::ordered_json& json, const FlakeAppearance& appearance) {
    json["flakes_per_cm2"] = appearance.per_cm2;
    json["flake_layers"] = appearance.layers;
    json["gaps_percent"] = 100 * appearance.gap_share;
    json["evenness"] = evenness_label(appearance);
    const auto put = [&](const char* name, const film::MultiAngleColour& from) {
        nlohmann::ordered_json over;
        for (std::size_t i = 0; i < film::kAspecular.size(); ++i) {
            const colour::Lab& lab = from.labs[i];
            over["angles"].push_back(
                {{"aspecular_deg", film::kAspecular[i].value},
                 {"lab",
                  {round_to_thousandths(lab.L), round_to_thousandths(lab.a), round_to_thousandths(lab.b)}},
                 {"chroma", round_to_thousandths(chroma_of(lab))}});
        }
        over["flop"] = round_to_thousandths(from.flop);
        json[name] = over;
    };
    put("over_black", appearance.over_black);
    put("over_grey", appearance.over_grey);
    put("over_white", appearance.over_white);
    put("over_ground", appearance.over_ground);
}

void add_flake_content_json(nlohmann::ordered_json& json, const plan::FlakeContent& content) {
    json["flakes_g_per_litre"] = content.in_mix.value;
    json["level_teaspoons_per_litre"] = content.level_teaspoons;
    json["bulk_density_g_per_mL"] = content.bulk_density.value;
}

}  // namespace fadewright::report
