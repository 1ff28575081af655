#include "fadewright/report/flake_appearance.h"
#include "fadewright/report/format.h"

#include "fadewright/colour/srgb.h"
#include "fadewright/film/drawdown.h"
#include "fadewright/film/flake_layer.h"
#include "fadewright/film/wet_flakes.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

namespace fadewright::report {
namespace {

constexpr double kBarelyEven = 0.5;    // of the limit at which mottle begins to show
constexpr double kSingleFlakes = 1.6;  // times that limit, 80 % gaps: single flakes, not a film

}  // namespace

FlakeAppearance flake_appearance(const paint::MixedPaint& mix, Micrometres film,
                                 const colour::Reflectance& ground, const film::Colorimeter& colorimeter) {
    const film::Coat coat{&mix, film, {}};
    const auto over = [&](const colour::Reflectance& backing) {
        return film::multi_angle_colour({&coat, 1}, backing, colorimeter);
    };
    FlakeAppearance appearance;
    appearance.over_black = over(colour::Reflectance::constant(film::kBlackChart));
    appearance.over_grey = over(colour::Reflectance::constant(film::kGreyChart));
    appearance.over_white = over(colour::Reflectance::constant(film::kWhiteChart));
    appearance.over_ground = over(ground);
    appearance.mottle_index = film::patchiness_index(mix.flakes, film).value_or(0);
    for (const paint::EffectPigment& flakes : mix.flakes) {
        if (flakes.platelet_hits_per_um <= 0) continue;
        appearance.per_cm2 += film::flakes_per_cm2(flakes, film);
        appearance.layers += flakes.platelet_hits_per_um * film.value;
    }
    appearance.gap_share = std::exp(-appearance.layers);
    return appearance;
}

std::string evenness_label(const FlakeAppearance& appearance) {
    if (appearance.per_cm2 <= 0) return "no flakes";
    if (appearance.mottle_index < kBarelyEven) return "even";
    if (appearance.mottle_index < 1) return "barely even";
    return appearance.mottle_index < kSingleFlakes ? "patchy" : "single flakes";
}

std::string describe_flake_content(const plan::FlakeContent& content, DisplayUnits units) {
    if (content.in_mix.value <= 0) return "no flakes in it";
    return fmt::format("{} {} flake per {} ready to spray ({:.1f} level teaspoons of {}; bulk density {})",
                       units.number(content.in_mix, 1), units.weight_unit_name(), units.volume_unit_name(),
                       units.per_volume_unit(content.level_teaspoons),
                       units.round_to_digits(film::kTeaspoon, 2), units.text(content.bulk_density, 2));
}

std::string flake_powder_note() { return fmt::format("{}. {}.", kFlakePowderNotes[0], kFlakePowderNotes[1]); }

std::string describe_stirring(const paint::MixedPaint& mix, double viscosity_mPa_s) {
    if (!film::has_flakes(mix)) return "";
    constexpr double kMaxMinutes = 240;
    const double minutes = film::stir_interval(mix.flakes, mix.wet_density, viscosity_mPa_s).value / 60;
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
    if (const auto best = film::chroma_peak(labs))
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

double exposure_to_fit(std::span<const colour::Lab> labs) {
    double brightest = 1;
    for (const colour::Lab& lab : labs) {
        const colour::Rgb rgb =
            colour::to_linear_srgb(colour::to_xyz(lab, colour::d65_white()), colour::d65_white());
        brightest = std::max({brightest, rgb.r, rgb.g, rgb.b});
    }
    return 1 / brightest;
}

colour::Lab apply_exposure(const colour::Lab& lab, double exposure) {
    if (exposure == 1) return lab;
    const colour::XYZ xyz = colour::to_xyz(lab, colour::d65_white());
    return colour::to_lab({exposure * xyz.X, exposure * xyz.Y, exposure * xyz.Z}, colour::d65_white());
}

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
