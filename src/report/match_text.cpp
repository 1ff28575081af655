#include "fadewright/colour/words.h"
#include "fadewright/report/blend.h"
#include "fadewright/report/match_report.h"
#include "fadewright/report/shown.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace fadewright::report {
namespace {

constexpr double kSeen = 1.0;  // a match further off than this is not called one

// Below this a drift is not worth naming a direction for.
constexpr double kNoDrift = 0.3;

std::string colour_line(const colour::Lab& lab) {
    return fmt::format("{}, L*a*b* {}", colour::colour_words(lab), lab_text(lab));
}

std::string ingredient_lines(const film::Recipe& recipe, Grams division) {
    std::size_t width = 0;
    for (const film::Ingredient& one : recipe.ingredients) width = std::max(width, one.paint->id.size());
    const int places = std::clamp(static_cast<int>(std::ceil(-std::log10(division.value) - 1e-9)), 0, 4);
    std::string out = fmt::format("  {:<{}}  {:>5}  {:>9}  {:>11}\n", "in this order", width, "parts",
                                  "grams", "scale reads");
    double poured = 0;
    for (const film::Ingredient& one : recipe.ingredients) {
        poured += one.grams.value;
        out += fmt::format("  {:<{}}  {:>5}  {:>9.{}f}  {:>11.{}f}", one.paint->id, width,
                           one.parts > 0 ? std::to_string(one.parts) : "-", one.grams.value, places, poured,
                           places);
        if (one.is_coarse())
            out += fmt::format("   half a division is {:.0f} % of it", 100 * one.weighing_error.value);
        out += "\n";
    }
    return out;
}

std::string lights_line(const film::Recipe& recipe) {
    const auto drift = [](double delta_e, const film::UnderLight& light) {
        if (delta_e < kNoDrift) return std::string("no change");
        return fmt::format("{:.1f} {}", delta_e, direction_words(*light.target, light.recipe));
    };
    if (recipe.metamerism_lamp)
        return fmt::format("beside the target: {} in lamplight (A), {} under a three-band tube (F11)",
                           drift(*recipe.metamerism_lamp, recipe.lamp),
                           drift(*recipe.metamerism_tube, recipe.tube));
    return fmt::format("by itself it looks {} in lamplight (A), {} under a three-band tube (F11)",
                       direction_words(recipe.lab, recipe.lamp.recipe),
                       direction_words(recipe.lab, recipe.tube.recipe));
}

std::string hiding_line(const film::Recipe& recipe, ShownUnits units) {
    std::string line = fmt::format("one coat of {} dry covers {:.0f} %", units.text(recipe.coat),
                                   std::floor(100 * recipe.contrast_ratio));
    if (!recipe.coats_to_hide) return line + "; it never hides, so the ground must be near this colour";
    return line + fmt::format("; hides in {} coat{} ({} dry)", *recipe.coats_to_hide,
                              *recipe.coats_to_hide == 1 ? "" : "s",
                              units.text(Micrometres{std::ceil(recipe.film_to_hide->value)}));
}

// What to do about paints that are too strong for the parts or the scale.
std::string strong_lines(const film::Recipe& recipe, const film::MatchSettings& settings) {
    std::string out;
    double batch = 0;
    for (const film::Ingredient& one : recipe.ingredients) {
        if (one.parts == 0)
            out += fmt::format(
                "  {} is too strong for parts: weigh it, or let 1 part of it down in 9 parts of clear base "
                "and use ten times as much of that\n",
                one.paint->id);
        if (one.is_coarse())
            batch = std::max(batch, settings.batch.value * one.weighing_error.value / film::kCoarseWeighing);
    }
    if (recipe.delta_e_parts > recipe.delta_e_grams + kSeen)
        out += "  parts this small cannot hold the colour: go by the scale\n";
    if (batch > 0)
        out += fmt::format(
            "  the scale is coarse for this batch: mix at least {:.0f} g, or weigh finer than {:g} g\n",
            std::ceil(batch), settings.division.value);
    return out;
}

std::string recipe_lines(const film::Recipe& recipe, const MatchReport& report) {
    std::string out = ingredient_lines(recipe, report.settings.division);
    out += fmt::format(
        "  away from the target (dE00): {:.2f} exact, {:.2f} in parts, {:.2f} by the scale; up to {:.2f} if "
        "one "
        "weighing is half a division off\n",
        recipe.delta_e, recipe.delta_e_parts, recipe.delta_e_grams, recipe.delta_e_slip);
    out += "  " + lights_line(recipe) + "\n  " + hiding_line(recipe, report.units) + "\n";
    return out;
}

paint::Origin least_sure(const film::Recipe& recipe) {
    paint::Origin origin = paint::Origin::measured;
    for (const film::Ingredient& one : recipe.ingredients) origin = std::max(origin, one.paint->origin);
    return origin;
}

}  // namespace

std::string difference_words(double delta_e) {
    if (delta_e < 0.5) return "nobody will see it";
    if (delta_e < kSeen) return "seen only side by side, by a trained eye";
    if (delta_e < 2) return "seen side by side";
    if (delta_e < 5) return "seen at a glance";
    return "another colour";
}

std::string direction_words(const colour::Lab& from, const colour::Lab& to) {
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

std::string lacking_words(const colour::Lab& wanted, const colour::Lab& nearest) {
    const colour::LCh w = colour::to_lch(wanted), n = colour::to_lch(nearest);
    // The weights of CIEDE2000 to first order: a step in chroma or hue counts for less in a strong colour.
    const double dL = w.L - n.L;
    const double dC = (w.C - n.C) / (1 + 0.045 * w.C);
    const double chord2 = std::pow(wanted.a - nearest.a, 2) + std::pow(wanted.b - nearest.b, 2);
    const double dH = std::sqrt(std::max(0.0, chord2 - std::pow(w.C - n.C, 2))) / (1 + 0.015 * w.C);
    if (std::abs(dL) >= std::abs(dC) && std::abs(dL) >= dH) return dL > 0 ? "as light" : "as dark";
    if (std::abs(dC) >= dH) return dC > 0 ? "as strong" : "as muted";
    const colour::Lab grounded{wanted.L, nearest.a, nearest.b};
    return direction_words(grounded, wanted);
}

std::string match_text(const MatchReport& report) {
    const film::Recipe& best = report.recipes.front();
    const int degrees = report.settings.observer == colour::Observer::ten_degree ? 10 : 2;
    std::string out =
        fmt::format("target  {}: {}\n        {}, seen in {} by the {} degree observer\n\n", report.asked,
                    colour_line(report.target.lab), report.laid, report.settings.light.id, degrees);
    const auto most = static_cast<std::size_t>(report.settings.most_paints);
    if (best.delta_e > kSeen)
        out += fmt::format(
            "the nearest is {:.1f} away ({}): no mix of at most {} of these {} paints is {}\n\n",
            best.delta_e, difference_words(best.delta_e), std::min<std::size_t>(most, report.candidates),
            report.candidates, lacking_words(report.target.lab, best.lab));
    out += fmt::format("best    {} ({:.2f} by the scale: {})\n", colour_line(best.lab), best.delta_e_grams,
                       difference_words(best.delta_e_grams));
    out += recipe_lines(best, report) + strong_lines(best, report.settings);
    for (std::size_t i = 1; i < report.recipes.size(); ++i) {
        const film::Recipe& other = report.recipes[i];
        out += fmt::format("\nor      {} ({:.2f} by the scale: {})\n", colour_line(other.lab),
                           other.delta_e_grams, difference_words(other.delta_e_grams));
        out += recipe_lines(other, report);
    }
    out +=
        "\nparts by volume. Pour the most first and the strongest last: too much of it cannot be taken "
        "out.\n";
    if (!report.target.seen)
        out +=
            "only the target's colour is known, not its spectrum: whether a recipe still matches it in "
            "another "
            "light cannot be told.\n";
    for (const std::string& note : report.notes) out += note + "\n";
    const paint::Origin origin = least_sure(best);
    if (origin != paint::Origin::measured)
        out += fmt::format("the paints' figures are {}: make a test card before the batch.\n",
                           origin_words(origin));
    return out;
}

}  // namespace fadewright::report
