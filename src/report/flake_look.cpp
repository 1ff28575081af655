#include "fadewright/report/flake_look.h"
#include "fadewright/report/shown.h"

#include "fadewright/colour/srgb.h"
#include "fadewright/film/flake_layer.h"
#include "fadewright/film/milk.h"
#include "fadewright/film/outlook.h"
#include "fadewright/film/settling.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

namespace fadewright::report {
namespace {

constexpr double kJustEven = 0.5;  // of the limit at which patches begin to show
constexpr double kSingle = 1.6;    // times that limit, four fifths bare: no film any more, but flakes

}  // namespace

FlakeLook flake_look(const paint::MixedPaint& mix, Micrometres film, const colour::Reflectance& ground,
                     const film::Looker& looker) {
    const film::Coat coat{&mix, film, {}};
    const auto over = [&](const colour::Reflectance& below) {
        return film::angled_look({&coat, 1}, below, looker);
    };
    FlakeLook look;
    look.over_black = over(colour::Reflectance::constant(film::kBlackCard));
    look.over_grey = over(colour::Reflectance::constant(film::kGreyCard));
    look.over_white = over(colour::Reflectance::constant(film::kWhiteCard));
    look.over_ground = over(ground);
    look.patchy_figure = film::patchy_figure(mix.flakes, film).value_or(0);
    for (const paint::Flakes& flakes : mix.flakes) {
        if (flakes.crossings_per_um <= 0) continue;
        look.per_cm2 += film::flakes_per_cm2(flakes, film);
        look.crossings += flakes.crossings_per_um * film.value;
    }
    look.bare_share = std::exp(-look.crossings);
    return look;
}

std::string patchiness_words(const FlakeLook& look) {
    if (look.per_cm2 <= 0) return "no flakes";
    if (look.patchy_figure < kJustEven) return "even";
    if (look.patchy_figure < 1) return "just even";
    return look.patchy_figure < kSingle ? "patchy" : "single flakes";
}

std::string content_words(const plan::FlakeContent& content, ShownUnits units) {
    if (content.in_mix.value <= 0) return "no flakes in it";
    return fmt::format("{} {} of flakes in a {} as sprayed: {:.1f} level teaspoons of {}, dry powder at {}",
                       units.figure(content.in_mix, 1), units.grams(), units.litre(),
                       units.in_litre(content.level_teaspoons), units.rounded(film::kTeaspoon, 2),
                       units.text(content.heaped_density, 2));
}

std::string stir_words(const paint::MixedPaint& mix, double viscosity_mPa_s) {
    if (!film::has_flakes(mix)) return "";
    constexpr double seconds_per_minute = 60, longest = 240;
    const double minutes =
        film::stir_again(mix.flakes, mix.wet_density, viscosity_mPa_s).value / seconds_per_minute;
    if (minutes < 1) return "the flakes sink fast: keep stirring";
    if (minutes >= longest) return "the flakes hardly sink: stir before each filling";
    const double step = minutes < 10 ? 1 : 5;
    return fmt::format("the flakes sink: stir again every {:.0f} min", step * std::floor(minutes / step));
}

std::string milk_sentence(Degrees aspecular, std::span<const film::AngledLook> over_black,
                          std::span<const std::string> names) {
    std::vector<colour::Lab> labs;
    for (const film::AngledLook& look : over_black) labs.push_back(look.at(aspecular));
    const std::string where = fmt::format("over black at {}", angle_text(aspecular));
    if (const auto best = film::milk_from(labs))
        return fmt::format(
            "{}: from {} on it gains milk, not colour: to {} chroma falls from {:.1f} to {:.1f} and L rises "
            "from {:.1f} to {:.1f}",
            where, names[*best], names.back(), chroma_of(labs[*best]), chroma_of(labs.back()), labs[*best].L,
            labs.back().L);
    return fmt::format("{}: no step from which it gains milk, not colour (looked up to {})", where,
                       names.back());
}

std::string number_of_flakes(double number) {
    if (number <= 0) return "0";
    const double step = std::pow(10, std::floor(std::log10(number)) - 2);
    return fmt::format("{:.0f}", step * std::round(number / step));
}

std::string angle_text(Degrees aspecular) { return fmt::format("{:g} deg", aspecular.value); }

double chroma_of(const colour::Lab& lab) noexcept { return colour::to_lch(lab).C; }

double exposure_of(std::span<const colour::Lab> labs) {
    double brightest = 1;
    for (const colour::Lab& lab : labs) {
        const colour::Rgb rgb =
            colour::to_linear_srgb(colour::to_xyz(lab, colour::d65_white()), colour::d65_white());
        brightest = std::max({brightest, rgb.r, rgb.g, rgb.b});
    }
    return 1 / brightest;
}

colour::Lab exposed(const colour::Lab& lab, double exposure) {
    if (exposure == 1) return lab;
    const colour::XYZ xyz = colour::to_xyz(lab, colour::d65_white());
    return colour::to_lab({exposure * xyz.X, exposure * xyz.Y, exposure * xyz.Z}, colour::d65_white());
}

void put_look(nlohmann::ordered_json& json, const FlakeLook& look) {
    json["flakes_per_cm2"] = look.per_cm2;
    json["crossings"] = look.crossings;
    json["bare_share_percent"] = 100 * look.bare_share;
    json["evenness"] = patchiness_words(look);
    const auto put = [&](const char* name, const film::AngledLook& from) {
        nlohmann::ordered_json over;
        for (std::size_t i = 0; i < film::kAspecular.size(); ++i) {
            const colour::Lab& lab = from.labs[i];
            over["angles"].push_back({{"aspecular_deg", film::kAspecular[i].value},
                                      {"lab", {thousandths(lab.L), thousandths(lab.a), thousandths(lab.b)}},
                                      {"chroma", thousandths(chroma_of(lab))}});
        }
        over["flop"] = thousandths(from.flop);
        json[name] = over;
    };
    put("over_black", look.over_black);
    put("over_grey", look.over_grey);
    put("over_white", look.over_white);
    put("over_ground", look.over_ground);
}

void put_content(nlohmann::ordered_json& json, const plan::FlakeContent& content) {
    json["flakes_g_per_litre"] = content.in_mix.value;
    json["level_teaspoons_per_litre"] = content.level_teaspoons;
    json["heaped_density_g_per_mL"] = content.heaped_density.value;
}

}  // namespace fadewright::report
