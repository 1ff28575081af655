#include "mix_flakes.h"

#include "fadewright/plan/job.h"
#include "fadewright/report/format.h"

#include <fmt/core.h>

#include <nlohmann/json.hpp>

namespace fadewright::report {
namespace {

std::vector<std::string> coat_names(std::size_t count) {
    std::vector<std::string> names;
    for (std::size_t n = 1; n <= count; ++n) names.push_back(fmt::format("coat {}", n));
    return names;
}

std::string appearance_rows(const MixReport& mix_report, const std::string& ground,
                            const film::MultiAngleColour FlakeAppearance::*over) {
    std::string out = fmt::format("\nover {}\n{:>5}", ground, "coats");
    for (const Degrees angle : film::kAspecular) out += fmt::format("   {:<16}", angle_text(angle));
    out += fmt::format("{:>6}   C* at 15°, 45°, 110°\n", "flop");
    for (std::size_t n = 0; n < mix_report.flakes->drawdown.coats.size(); ++n) {
        const film::MultiAngleColour& appearance = mix_report.flakes->drawdown.coats[n].*over;
        out += fmt::format("{:>5}", n + 1);
        for (const colour::Lab& lab : appearance.labs) out += fmt::format("   {:<16}", lab_text(lab));
        out += fmt::format("{:>6.1f}  ", appearance.flop);
        for (const Degrees angle : kShownAngles)
            out += fmt::format(" {:.1f}", chroma_of(appearance.at(angle)));
        out += "\n";
    }
    return out;
}

}  // namespace

void add_flake_sentences(const MixFlakes& flakes, DisplayUnits units, std::vector<std::string>& out) {
    out.push_back(describe_flake_content(flakes.content, units));
    if (flakes.content.in_mix.value > 0)
        out.insert(out.end(), kFlakePowderNotes.begin(), kFlakePowderNotes.end());
    out.push_back(fmt::format("{} (at {:g} s, DIN 4)", describe_stirring(flakes.stir_interval),
                              plan::kDefaultFlowCup.time.value));
    if (!flakes.drawdown.coats.empty()) {
        const FlakeAppearance& first_coat = flakes.drawdown.coats.front();
        out.push_back(
            fmt::format("one coat: {}; {} flakes per {}, {:.2f} flakes deep on average, {:.0f} % gaps",
                        evenness_label(first_coat), flake_count_text(units.per_area_unit(first_coat.per_cm2)),
                        units.area_unit_name(), first_coat.layers, 100 * first_coat.gap_share));
    }
    const std::vector<std::string> names = coat_names(flakes.drawdown.over_black_by_coat.size());
    for (const Degrees angle : kChromaPeakAngles)
        out.push_back(describe_chroma_peak(angle, flakes.drawdown.over_black_by_coat, names));
}

std::string mix_flakes_text(const MixReport& mix_report) {
    std::string out =
        "\nAbove: diffuse light. Below: light at 45°, viewed at these aspecular angles (L* a* b*):\n";
    out += appearance_rows(mix_report, "black", &FlakeAppearance::over_black);
    out += appearance_rows(mix_report, "white", &FlakeAppearance::over_white);
    out += appearance_rows(mix_report, mix_report.ground_name, &FlakeAppearance::over_ground);
    out += fmt::format("\n{:>5} {:>12} {:>12} {:>7}\n", "coats",
                       fmt::format("flakes/{}", mix_report.units.area_unit_name()), "flake layers", "gaps");
    for (std::size_t n = 0; n < mix_report.flakes->drawdown.coats.size(); ++n) {
        const FlakeAppearance& appearance = mix_report.flakes->drawdown.coats[n];
        out += fmt::format("{:>5} {:>12} {:>12.2f} {:>5.0f} %   {}\n", n + 1,
                           flake_count_text(mix_report.units.per_area_unit(appearance.per_cm2)),
                           appearance.layers, 100 * appearance.gap_share, evenness_label(appearance));
    }
    return out;
}

void add_flakes_json(nlohmann::ordered_json& json, const MixReport& mix_report) {
    nlohmann::ordered_json flakes;
    add_flake_content_json(flakes, mix_report.flakes->content);
    for (const FlakeAppearance& appearance : mix_report.flakes->drawdown.coats) {
        nlohmann::ordered_json coat;
        add_flake_appearance_json(coat, appearance);
        flakes["coats"].push_back(coat);
    }
    json["flakes"] = flakes;
}

}  // namespace fadewright::report
