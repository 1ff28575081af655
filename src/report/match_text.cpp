#include "fadewright/report/colour_naming.h"
#include "fadewright/report/format.h"
#include "fadewright/report/match_report.h"
#include "fadewright/report/mix_report.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace fadewright::report {
namespace {

constexpr double kVisible_dE00 = 1.0;  // a difference above this is not called a match

// Below this a shift is reported as no change.
constexpr double kNegligibleShift_dE00 = 0.3;

std::string colour_line(const colour::Lab& lab) {
    return fmt::format("{}, L*a*b* {}", colour_name(lab), lab_text(lab));
}

std::string ingredient_lines(const formulation::Recipe& recipe, Grams division) {
    std::size_t width = 0;
    for (const formulation::Ingredient& ingredient : recipe.ingredients)
        width = std::max(width, ingredient.paint->id.size());
    const int decimals = std::clamp(static_cast<int>(std::ceil(-std::log10(division.value) - 1e-9)), 0, 4);
    std::string out = fmt::format("  {:<{}}  {:>5}  {:>9}  {:>13}\n", "in this order", width, "parts",
                                  "grams", "running total");
    double running_total = 0;
    for (const formulation::Ingredient& ingredient : recipe.ingredients) {
        running_total += ingredient.grams.value;
        out += fmt::format("  {:<{}}  {:>5}  {:>9.{}f}  {:>13.{}f}", ingredient.paint->id, width,
                           ingredient.parts > 0 ? std::to_string(ingredient.parts) : "-",
                           ingredient.grams.value, decimals, running_total, decimals);
        if (ingredient.is_coarse())
            out += fmt::format("   half a scale division is {:.0f} % of it",
                               100 * ingredient.weighing_error.value);
        out += "\n";
    }
    return out;
}

std::string lights_line(const formulation::Recipe& recipe) {
    const auto shift = [](double delta_e, const formulation::ColourUnderLight& light) {
        if (delta_e < kNegligibleShift_dE00) return std::string("no change");
        return fmt::format("{:.1f} {}", delta_e, direction_label(*light.target, light.recipe));
    };
    if (recipe.metamerism_incandescent)
        return fmt::format(
            "against the target: {} under warm bulbs (A), {} under a three-band fluorescent tube (F11)",
            shift(*recipe.metamerism_incandescent, recipe.incandescent),
            shift(*recipe.metamerism_fluorescent, recipe.fluorescent));
    return fmt::format(
        "on its own it looks {} under warm bulbs (A), {} under a three-band fluorescent tube (F11)",
        direction_label(recipe.lab, recipe.incandescent.recipe),
        direction_label(recipe.lab, recipe.fluorescent.recipe));
}

std::string hiding_line(const formulation::Recipe& recipe, DisplayUnits units) {
    std::string line = fmt::format("one coat of {} dry hides {:.0f} %", units.text(recipe.coat_film),
                                   std::floor(100 * recipe.contrast_ratio));
    if (!recipe.coats_to_hide) return line + "; it never hides, so the ground must be near this colour";
    return line + fmt::format("; full hiding in {} coat{} ({} dry)", *recipe.coats_to_hide,
                              *recipe.coats_to_hide == 1 ? "" : "s",
                              units.text(Micrometres{std::ceil(recipe.film_to_hide->value)}));
}

// Advice on paints that are too strong for the parts or the scale.
std::string strong_lines(const formulation::Recipe& recipe, const formulation::MatchSettings& settings) {
    std::string out;
    double batch = 0;
    for (const formulation::Ingredient& ingredient : recipe.ingredients) {
        if (ingredient.parts == 0)
            out += fmt::format(
                "  {} is too strong to measure in parts: weigh it, or let 1 part of it down in 9 parts of "
                "clear base and use ten times as much of that\n",
                ingredient.paint->id);
        if (ingredient.is_coarse())
            batch = std::max(batch, settings.batch.value * ingredient.weighing_error.value /
                                        formulation::kMaxWeighingError);
    }
    if (recipe.delta_e_parts > recipe.delta_e_grams + kVisible_dE00)
        out += "  parts are too coarse: weigh instead\n";
    if (batch > 0)
        out += fmt::format(
            "  your scale is too coarse for this batch: mix at least {:.0f} g, or use a scale finer than "
            "{:g} g\n",
            std::ceil(batch), settings.division.value);
    return out;
}

std::string recipe_lines(const formulation::Recipe& recipe, const MatchReport& report) {
    std::string out = ingredient_lines(recipe, report.settings.division);
    out += fmt::format(
        "  difference from target (ΔE00): {:.2f} exact, {:.2f} in parts, {:.2f} by weight; up to {:.2f} if "
        "one weighing is half a scale division off\n",
        recipe.delta_e, recipe.delta_e_parts, recipe.delta_e_grams, recipe.delta_e_worst_case);
    out += "  " + lights_line(recipe) + "\n  " + hiding_line(recipe, report.units) + "\n";
    return out;
}

paint::Provenance weakest_provenance(const formulation::Recipe& recipe) {
    paint::Provenance origin = paint::Provenance::measured;
    for (const formulation::Ingredient& ingredient : recipe.ingredients)
        origin = std::max(origin, ingredient.paint->origin);
    return origin;
}

}  // namespace

std::string difference_label(double delta_e) {
    if (delta_e < 0.5) return "nobody will see it";
    if (delta_e < kVisible_dE00) return "seen only side by side, by a trained eye";
    if (delta_e < 2) return "seen side by side";
    if (delta_e < 5) return "seen at a glance";
    return "a different colour";
}

std::string direction_label(const colour::Lab& from, const colour::Lab& to) {
    struct Step {
        double size;
        const char* word;
    };
    const double dL = to.L - from.L, da = to.a - from.a, db = to.b - from.b;
    const std::array steps{Step{std::abs(dL), dL > 0 ? "lighter" : "darker"},
                           Step{std::abs(da), da > 0 ? "redder" : "greener"},
                           Step{std::abs(db), db > 0 ? "yellower" : "bluer"}};
    return std::max_element(steps.begin(), steps.end(),
                            [](const Step& a, const Step& b) { return a.size < b.size; })
        ->word;
}

std::string shortfall_label(const colour::Lab& target, const colour::Lab& nearest) {
    const colour::LCh w = colour::to_lch(target), n = colour::to_lch(nearest);
    // The weights of CIEDE2000 to first order: steps in chroma and hue count less in a strong colour.
    const double dL = w.L - n.L;
    const double dC = (w.C - n.C) / (1 + 0.045 * w.C);
    const double chord2 = std::pow(target.a - nearest.a, 2) + std::pow(target.b - nearest.b, 2);
    const double dH = std::sqrt(std::max(0.0, chord2 - std::pow(w.C - n.C, 2))) / (1 + 0.015 * w.C);
    if (std::abs(dL) >= std::abs(dC) && std::abs(dL) >= dH) return dL > 0 ? "as light" : "as dark";
    if (std::abs(dC) >= dH) return dC > 0 ? "as strong" : "as muted";
    const colour::Lab same_lightness{target.L, nearest.a, nearest.b};
    return direction_label(same_lightness, target);
}

std::string match_text(const MatchReport& report) {
    const formulation::Recipe& best = report.recipes.front();
    const int degrees = report.settings.observer == colour::Observer::ten_degree ? 10 : 2;
    std::string out =
        fmt::format("target  {}: {}\n        {}, under {}, {}° observer\n\n", report.request,
                    colour_line(report.target.lab), report.film_condition, report.settings.light.id, degrees);
    const auto max_paints = static_cast<std::size_t>(report.settings.max_paints);
    if (best.delta_e > kVisible_dE00)
        out += fmt::format(
            "the nearest is {:.1f} ΔE00 away ({}): no mix of at most {} of these {} paints is {}\n\n",
            best.delta_e, difference_label(best.delta_e),
            std::min<std::size_t>(max_paints, report.candidates), report.candidates,
            shortfall_label(report.target.lab, best.lab));
    out += fmt::format("best    {} ({:.2f} by weight: {})\n", colour_line(best.lab), best.delta_e_grams,
                       difference_label(best.delta_e_grams));
    out += recipe_lines(best, report) + strong_lines(best, report.settings);
    for (std::size_t i = 1; i < report.recipes.size(); ++i) {
        const formulation::Recipe& other = report.recipes[i];
        out += fmt::format("\nor      {} ({:.2f} by weight: {})\n", colour_line(other.lab),
                           other.delta_e_grams, difference_label(other.delta_e_grams));
        out += recipe_lines(other, report);
    }
    out +=
        "\nparts by volume. Pour the largest part first and the strongest last: too much of it cannot be "
        "taken out.\n";
    if (!report.target.measured)
        out +=
            "only the target's colour is known, not its spectrum: the match under other lights cannot be "
            "predicted.\n";
    for (const std::string& note : report.notes) out += note + "\n";
    const paint::Provenance origin = weakest_provenance(best);
    if (origin != paint::Provenance::measured)
        out += fmt::format("the paint data are {}: make a spray-out card before the batch.\n",
                           provenance_label(origin));
    return out;
}

}  // namespace fadewright::report
