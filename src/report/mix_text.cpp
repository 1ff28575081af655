#include "fadewright/colour/delta_e.h"
#include "fadewright/plan/job.h"
#include "fadewright/report/colour_naming.h"
#include "fadewright/report/format.h"
#include "fadewright/report/mix_report.h"
#include "mix_flakes.h"

#include <fmt/core.h>

#include <cmath>
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

namespace {

constexpr double kNoticedChromaLoss = 8;     // C*; a mid colour that loses more looks dull
constexpr double kNoticedHueShift_deg = 20;  // a hue shifted this far has another name
constexpr double kNoticedUndertone = 6;      // CIEDE2000 of chroma and hue alone

std::string price_text(const MixReport& mix_report) {
    if (!mix_report.price_per_litre) return "no price: some paints have none";
    return fmt::format("{:.2f} per {} ready to spray",
                       mix_report.units.per_volume_unit(*mix_report.price_per_litre),
                       mix_report.units.volume_unit_name());
}

std::string hiding_sentence(const MixReport& mix_report) {
    if (!mix_report.drawdown.film_to_hide) return "never hides: stays transparent at any film build";
    const int coats = mix_report.drawdown.coats_to_hide.value_or(1);
    return fmt::format("hides black and white in {} {} of {} (full hiding at {} dry)", coats,
                       coats == 1 ? "coat" : "coats", mix_report.units.text(mix_report.coat, 1),
                       mix_report.units.text(*mix_report.drawdown.film_to_hide));
}

void add_undertone(const MixReport& mix_report, std::vector<std::string>& out) {
    // Compare hue and chroma only: a thin film over white is always lighter.
    const colour::Lab& thick = mix_report.drawdown.masstone;
    const colour::Lab& thin = mix_report.drawdown.coats.empty() ? mix_report.drawdown.undertone
                                                                : mix_report.drawdown.coats[0].over_white;
    const colour::Lab level{thick.L, thin.a, thin.b};
    if (colour::delta_e_2000(thick, level) < kNoticedUndertone) return;
    out.push_back(fmt::format("masstone is {}; undertone (one coat over white) is {}", colour_name(thick),
                              colour_name(thin)));
}

void add_midpoints(const MixReport& mix_report, std::vector<std::string>& out) {
    const TwoColours& two_colours = *mix_report.two_colours;
    if (two_colours.midpoint)
        out.push_back(fmt::format(
            "visual midpoint is {} of {} to {}{}", ratio_text(two_colours.midpoint->parts_of_b),
            two_colours.a, two_colours.b,
            std::abs(std::log(two_colours.midpoint->parts_of_b)) > std::log(1.5) ? ", not 1 : 1" : ""));
    const auto add_difference = [&](const char* method, const formulation::MidColourFigures& midpoint) {
        const double ends =
            (colour::to_lch(two_colours.midpoints.a).C + colour::to_lch(two_colours.midpoints.b).C) / 2;
        const double own = colour::to_lch(midpoint.lab).C;
        if (midpoint.chroma_loss > kNoticedChromaLoss)
            out.push_back(fmt::format("{}: the mid colour goes {}: chroma falls from {:.0f} to {:.0f}",
                                      method, own < 12 ? "grey" : "dull", ends, own));
        if (midpoint.hue_shift_deg && std::abs(*midpoint.hue_shift_deg) > kNoticedHueShift_deg)
            out.push_back(fmt::format("{}: the mid colour shifts to {}", method, colour_name(midpoint.lab)));
    };
    add_difference("mixed in the cup", two_colours.midpoints.premixed);
    add_difference("sprayed as a thin coat", two_colours.midpoints.glazed);
    add_difference("fogged on as dots", two_colours.midpoints.stippled);
}

}  // namespace

std::string binder_label(const MixReport& mix_report) {
    return mix_report.units.text(GramsPerLitre{mix_report.mix.binder_g_per_litre});
}

std::vector<std::string> mix_sentences(const MixReport& mix_report) {
    std::vector<std::string> out{hiding_sentence(mix_report)};
    add_undertone(mix_report, out);
    if (mix_report.bluish_below)
        out.push_back(fmt::format("over dark it turns bluish below {}",
                                  mix_report.units.text(*mix_report.bluish_below)));
    if (mix_report.two_colours) add_midpoints(mix_report, out);
    if (mix_report.flakes) add_flake_sentences(*mix_report.flakes, mix_report.units, out);
    return out;
}

std::string mix_text(const MixReport& mix_report) {
    std::string out = fmt::format("{}\n\n", mix_report.title);
    for (const paint::Ingredient& i : mix_report.ingredients)
        out += fmt::format("  {:<34} {:5.1f} % by volume   {:5.1f} % by weight   of the mix\n", i.title,
                           100 * i.of_mix_volume.value, 100 * i.of_mix_weight.value);
    out += fmt::format("\nmasstone {} ({}), under {}\n", colour_name(mix_report.drawdown.masstone),
                       lab_text(mix_report.drawdown.masstone), mix_report.light);
    for (const std::string& sentence : mix_sentences(mix_report)) out += sentence + "\n";
    out += fmt::format(
        "\nsolids {:.1f} % by volume, binder {} ready to spray, pigment to binder {:.2f} by weight\n",
        100 * mix_report.mix.solids.value, binder_label(mix_report), mix_report.mix.pigment_binder);
    out += price_text(mix_report) + "\n\n";
    out +=
        fmt::format("{:>5} {:>7}   {:<20} {:<20} {:<20} {:<20} {:>8}\n", "coats",
                    fmt::format("{} dry", mix_report.units.unit_name<Micrometres>()), "over white L* a* b*",
                    "over grey", "over black", "over " + mix_report.ground_name, "contrast");
    for (std::size_t n = 0; n < mix_report.drawdown.coats.size(); ++n) {
        const formulation::DrawdownCoat& c = mix_report.drawdown.coats[n];
        out += fmt::format("{:>5} {:>7}   {:<20} {:<20} {:<20} {:<20} {:>8.3f}\n", n + 1,
                           mix_report.units.number(c.film, 1), lab_text(c.over_white), lab_text(c.over_grey),
                           lab_text(c.over_black), lab_text(c.over_ground), c.contrast_ratio);
    }
    if (mix_report.flakes) out += mix_flakes_text(mix_report);
    if (mix_report.mix.origin == paint::Provenance::estimated)
        out += "\ncolours are predicted from estimated paint data; spray a card before you trust them\n";
    return out;
}

namespace {

nlohmann::ordered_json midpoint_json(const formulation::MidColourFigures& midpoint) {
    nlohmann::ordered_json json;
    add_colour_json(json, "colour", midpoint.lab);
    json["chroma_loss"] = midpoint.chroma_loss;
    json["hue_shift_deg"] =
        midpoint.hue_shift_deg ? nlohmann::ordered_json(*midpoint.hue_shift_deg) : nullptr;
    return json;
}

nlohmann::ordered_json two_json(const TwoColours& two_colours) {
    nlohmann::ordered_json json;
    json["a"] = two_colours.a;
    json["b"] = two_colours.b;
    add_colour_json(json, "a_as_sprayed", two_colours.midpoints.a);
    add_colour_json(json, "b_as_sprayed", two_colours.midpoints.b);
    if (two_colours.midpoint) {
        json["visual_midpoint"]["parts_of_b_per_part_of_a"] = two_colours.midpoint->parts_of_b;
        add_colour_json(json["visual_midpoint"], "colour", two_colours.midpoint->lab);
    }
    json["mixed_in_cup"] = midpoint_json(two_colours.midpoints.premixed);
    json["sprayed_as_a_thin_coat"] = midpoint_json(two_colours.midpoints.glazed);
    json["fogged_as_dots"] = midpoint_json(two_colours.midpoints.stippled);
    return json;
}

}  // namespace

std::string mix_json(const MixReport& mix_report) {
    nlohmann::ordered_json json;
    json["title"] = mix_report.title;
    json["light"] = mix_report.light;
    json["paint_data"] = provenance_label(mix_report.mix.origin);
    for (const paint::Ingredient& i : mix_report.ingredients)
        json["ingredients"].push_back({{"paint", i.id},
                                       {"percent_of_mix_by_volume", 100 * i.of_mix_volume.value},
                                       {"percent_of_mix_by_weight", 100 * i.of_mix_weight.value}});
    add_colour_json(json, "masstone", mix_report.drawdown.masstone);
    json["solids_percent"] = 100 * mix_report.mix.solids.value;
    json["binder_g_per_litre"] = mix_report.mix.binder_g_per_litre;
    json["pigment_binder"] = mix_report.mix.pigment_binder;
    json["price_per_litre"] = mix_report.price_per_litre ? nlohmann::ordered_json(*mix_report.price_per_litre)
                                                         : nlohmann::ordered_json(nullptr);
    json["film_to_hide_um"] = mix_report.drawdown.film_to_hide
                                  ? nlohmann::ordered_json(mix_report.drawdown.film_to_hide->value)
                                  : nlohmann::ordered_json(nullptr);
    for (const formulation::DrawdownCoat& c : mix_report.drawdown.coats) {
        nlohmann::ordered_json coat;
        coat["film_um"] = c.film.value;
        coat["contrast_ratio"] = c.contrast_ratio;
        add_colour_json(coat, "over_white", c.over_white);
        add_colour_json(coat, "over_grey", c.over_grey);
        add_colour_json(coat, "over_black", c.over_black);
        add_colour_json(coat, "over_ground", c.over_ground);
        json["coats"].push_back(coat);
    }
    if (mix_report.two_colours) json["two_colours"] = two_json(*mix_report.two_colours);
    if (mix_report.flakes) add_flakes_json(json, mix_report);
    json["sentences"] = mix_sentences(mix_report);
    return json.dump(2) + "\n";
}

}  // namespace fadewright::report
