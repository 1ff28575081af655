#include "blend_flakes.h"

#include "fadewright/plan/job.h"
#include "fadewright/report/shown.h"
#include "fadewright/spray/flow.h"

#include <fmt/core.h>

#include <nlohmann/json.hpp>

namespace fadewright::report {
namespace {

std::vector<std::string> coat_names(std::size_t count) {
    std::vector<std::string> names;
    for (std::size_t n = 1; n <= count; ++n) names.push_back(fmt::format("coat {}", n));
    return names;
}

std::string look_rows(const Blend& blend, const std::string& ground,
                      const film::AngledLook FlakeLook::*over) {
    std::string out = fmt::format("\nover {}\n{:>5}", ground, "coats");
    for (const Degrees angle : film::kAspecular) out += fmt::format("   {:<16}", angle_text(angle));
    out += fmt::format("{:>6}   C at 15, 45, 110\n", "flop");
    for (std::size_t n = 0; n < blend.flakes->coats.size(); ++n) {
        const film::AngledLook& look = blend.flakes->coats[n].*over;
        out += fmt::format("{:>5}", n + 1);
        for (const colour::Lab& lab : look.labs) out += fmt::format("   {:<16}", lab_text(lab));
        out += fmt::format("{:>6.1f}  ", look.flop);
        for (const Degrees angle : kShownAngles) out += fmt::format(" {:.1f}", chroma_of(look.at(angle)));
        out += "\n";
    }
    return out;
}

}  // namespace

FlakeBlend flake_blend(const Blend& blend, const plan::FlakeContent& content,
                       const colour::Reflectance& ground, const film::Looker& looker) {
    FlakeBlend flakes;
    flakes.content = content;
    flakes.stir = stir_words(blend.mix, spray::din4_mm2_per_s(plan::kUsualCup) * blend.mix.wet_density.value);
    for (const film::CoatLook& coat : blend.outlook.coats)
        flakes.coats.push_back(flake_look(blend.mix, coat.film, ground, looker));
    const auto black = colour::Reflectance::constant(film::kBlackCard);
    for (int n = 1; n <= kMilkCoats; ++n) {
        const film::Coat coat{&blend.mix, static_cast<double>(n) * blend.coat, {}};
        flakes.over_black.push_back(film::angled_look({&coat, 1}, black, looker));
    }
    return flakes;
}

void add_flake_sentences(const FlakeBlend& flakes, ShownUnits units, std::vector<std::string>& out) {
    out.push_back(content_words(flakes.content, units));
    if (!flakes.stir.empty())
        out.push_back(fmt::format("{}, at {:g} s in the DIN cup", flakes.stir, plan::kUsualCup.value));
    if (!flakes.coats.empty()) {
        const FlakeLook& one = flakes.coats.front();
        out.push_back(
            fmt::format("one coat: {}; {} flakes on a {}, a ray meets {:.2f}, {:.0f} % is bare of them",
                        patchiness_words(one), number_of_flakes(units.on_patch(one.per_cm2)),
                        units.patch_in_full(), one.crossings, 100 * one.bare_share));
    }
    const std::vector<std::string> names = coat_names(flakes.over_black.size());
    for (const Degrees angle : kMilkAngles) out.push_back(milk_sentence(angle, flakes.over_black, names));
}

std::string flakes_text(const Blend& blend) {
    std::string out =
        "\nthat is what even light shows; with the light at 45 deg and the eye so far from the shine "
        "(L a b):\n";
    out += look_rows(blend, "black", &FlakeLook::over_black);
    out += look_rows(blend, "white", &FlakeLook::over_white);
    out += look_rows(blend, blend.ground_name, &FlakeLook::over_ground);
    out += fmt::format("\n{:>5} {:>12} {:>10} {:>7}\n", "coats",
                       fmt::format("flakes/{}", blend.units.patch()), "crossings", "bare");
    for (std::size_t n = 0; n < blend.flakes->coats.size(); ++n) {
        const FlakeLook& look = blend.flakes->coats[n];
        out += fmt::format("{:>5} {:>12} {:>10.2f} {:>5.0f} %   {}\n", n + 1,
                           number_of_flakes(blend.units.on_patch(look.per_cm2)), look.crossings,
                           100 * look.bare_share, patchiness_words(look));
    }
    return out;
}

void put_flakes(nlohmann::ordered_json& json, const Blend& blend) {
    nlohmann::ordered_json flakes;
    put_content(flakes, blend.flakes->content);
    for (const FlakeLook& look : blend.flakes->coats) {
        nlohmann::ordered_json coat;
        put_look(coat, look);
        flakes["coats"].push_back(coat);
    }
    json["flakes"] = flakes;
}

}  // namespace fadewright::report
