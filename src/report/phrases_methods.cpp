#include "fadewright/report/phrases_methods.h"

#include "fadewright/base/contract.h"
#include "fadewright/plan/plan_schema.h"
#include "fadewright/report/format.h"

#include <fmt/core.h>

#include <algorithm>

namespace fadewright::report {
namespace {

using assess::FadeMethodComparison;
using assess::FadeMethodResult;

// Smaller ones are left out of a summary.
constexpr double kMinChromaLossShown = 5, kMinGraininessShown = 0.5;

const FadeMethodResult* find_variation(const FadeMethodComparison& methods, assess::FadeVariation variation) {
    const auto found =
        std::find_if(methods.results.begin(), methods.results.end(),
                     [&](const FadeMethodResult& method) { return method.id.variation == variation; });
    return found == methods.results.end() ? nullptr : &*found;
}

const plan::ResolvedCoat* mid_colour_coat(const FadeMethodResult& method) {
    const std::vector<plan::ResolvedCoat>& coats = method.job.coats;
    const auto found = std::find_if(coats.begin(), coats.end(), [](const plan::ResolvedCoat& coat) {
        return coat.fade_role == plan::FadeRole::mid_colour;
    });
    return found == coats.end() ? nullptr : &*found;
}

}  // namespace

std::string variation_label(assess::FadeVariation variation, const plan::Fade& fade) {
    using V = assess::FadeVariation;
    switch (variation) {
        case V::over:
            return fmt::format("{} straight over {}", fade.to.value, fade.from.value);
        case V::under:
            return fmt::format("{} straight over {}", fade.from.value, fade.to.value);
        case V::fogged:
            return "fogged from both sides";
        case V::mid_colour:
            return "one mid colour, unextended";
        case V::mid_colour_extended:
            return "one mid colour, extended 2:1";
        case V::mid_colour_reduced:
            return "one mid colour, thinned 2:1 with reducer";
        case V::mid_colour_at_midpoint:
            return fmt::format("one mid colour at the visual midpoint ({:.2f}:1)",
                               fade.mid_ratio.value_or(assess::kDefaultMidRatio));
        case V::two_mid_colours_extended:
            return "two mid colours, extended 2:1";
        case V::stepped:
            return "stepped let-down into the base";
        case V::glazed:
            return "thin transparent layers";
        case V::burst:
            break;
    }
    return "sunburst from outside the edge";
}

std::string method_name(const FadeMethodResult& method) {
    if (method.id.source == assess::FadeSource::tuned) return "tuned";
    const std::optional<std::size_t> coat = assess::fade_coat_index(method.plan);
    std::string label = method.id.variation && coat
                            ? variation_label(*method.id.variation, *method.plan.coats[*coat].fade)
                            : "";
    if (method.id.source == assess::FadeSource::variation) return label;
    return label.empty() ? "your plan" : "your plan: " + label;
}

std::string describe_advantage(const assess::FadeAdvantage& advantage) {
    const double a = advantage.best, b = advantage.runner_up;
    switch (advantage.criterion) {
        case assess::FadeCriterion::banding:
            return fmt::format("banding {:.1f}× the visible threshold instead of {:.1f}×", a, b);
        case assess::FadeCriterion::abruptness:
            return fmt::format("softer ends (abruptness {:.2f} instead of {:.2f})", a, b);
        case assess::FadeCriterion::evenness:
            return fmt::format("more even (steepest part {:.2f}× the average instead of {:.2f}×)", a, b);
        case assess::FadeCriterion::chroma_loss:
            return fmt::format("cleaner middle (loses {:.0f} C* instead of {:.0f})", a, b);
        case assess::FadeCriterion::hue_shift:
            return fmt::format("less hue shift ({:.0f}° instead of {:.0f}°)", a, b);
        case assess::FadeCriterion::graininess:
            return fmt::format("less graininess ({:.1f} ΔL* instead of {:.1f})", a, b);
        case assess::FadeCriterion::dry_spray:
            return fmt::format("lands wetter (dry-spray index {:.2f} instead of {:.2f})", a, b);
        case assess::FadeCriterion::passes:
            break;
    }
    return fmt::format("{:.0f} passes instead of {:.0f}", a, b);
}

std::string advice_text(const FadeMethodComparison& methods) {
    const std::string best = method_name(methods.results[methods.best]);
    if (methods.results.size() < 2) return fmt::format("{}: the only possible method", best);
    return fmt::format("{}: {}. Runner-up: {}", best,
                       methods.advantage ? describe_advantage(*methods.advantage) : "no clear winner",
                       method_name(methods.results[methods.runner_up]));
}

std::vector<std::string> fade_summary(const FadeMethodResult& method) {
    std::vector<std::string> lines;
    if (const auto& f = method.metrics) {
        lines.push_back(method.job.units.text(f->width) + " wide (10-90 %)");
        lines.push_back(f->banding_over_threshold < 1
                            ? "no visible banding"
                            : fmt::format("banding, {:.1f}× visible threshold", f->banding_over_threshold));
        lines.push_back(fmt::format("steepest part {:.1f}× the average", f->steepest_over_mean));
        if (f->chroma_loss >= kMinChromaLossShown)
            lines.push_back(fmt::format("middle loses {:.0f} C* (goes grey)", f->chroma_loss));
    } else {
        lines.push_back("both ends look the same");
    }
    const assess::FadeCost& cost = method.cost;
    if (cost.grain_L >= kMinGraininessShown)
        lines.push_back(fmt::format("graininess {:.1f} ΔL*", cost.grain_L));
    if (cost.sag.severity != assess::Severity::ok) lines.push_back("may sag");
    if (cost.dry_spray.severity != assess::Severity::ok) lines.push_back("dry spray in places");
    lines.push_back(fmt::format("{} passes, {} trigger time", cost.passes, duration_text(cost.trigger_time)));
    return lines;
}

std::string describe_extension(const FadeMethodComparison& methods) {
    const FadeMethodResult* extended = find_variation(methods, assess::FadeVariation::mid_colour_extended);
    const FadeMethodResult* reduced = find_variation(methods, assess::FadeVariation::mid_colour_reduced);
    if (!extended || !reduced) return "";
    const plan::ResolvedCoat *a = mid_colour_coat(*extended), *b = mid_colour_coat(*reduced);
    if (!a || !b) return "";
    const DisplayUnits units = methods.results.front().job.units;
    const auto binder = [units](const plan::ResolvedCoat& coat) {
        return units.text(GramsPerLitre{coat.mix.binder_g_per_litre});
    };
    return fmt::format(
        "The mid colour extended 2:1 with clear base keeps {} binder ready to spray; thinned as much with "
        "reducer instead it keeps {}. Solids {:.0f} % against {:.0f} %, pigment to binder {:.2f} against "
        "{:.2f}.\n",
        binder(*a), binder(*b), 100 * a->mix.solids.value, 100 * b->mix.solids.value, a->mix.pigment_binder,
        b->mix.pigment_binder);
}

std::string_view setting_label(assess::Vary setting) noexcept {
    switch (setting) {
        case assess::Vary::method:
            return "method";
        case assess::Vary::order:
            return "sprayed first";
        case assess::Vary::mid_colours:
            return "mid colours";
        case assess::Vary::mid_ratio:
            return "mid-colour ratio";
        case assess::Vary::extend:
            return "extend";
        case assess::Vary::passes:
            return "passes solved";
        case assess::Vary::width:
            return "fade width";
        case assess::Vary::position:
            return "position";
        case assess::Vary::overlap:
            return "overlap";
        case assess::Vary::distance:
            break;
    }
    return "distance";
}

std::string setting_text(assess::Vary setting, const plan::Plan& plan) {
    const std::optional<std::size_t> index = assess::fade_coat_index(plan);
    FW_EXPECTS(index);
    const plan::Coat& coat = plan.coats[*index];
    const plan::Fade& fade = *coat.fade;
    const DisplayUnits units = plan.units;
    switch (setting) {
        case assess::Vary::method:
            return std::string(name_of(fade.method));
        case assess::Vary::order:
            return fade.from.value;
        case assess::Vary::mid_colours:
            return std::to_string(fade.mid_colours.value_or(assess::kDefaultMidColours));
        case assess::Vary::mid_ratio:
            return fmt::format("{:.1f}", fade.mid_ratio.value_or(assess::kDefaultMidRatio));
        case assess::Vary::extend:
            return fmt::format("{:.1f}", fade.extend.value_or(assess::kAssumedExtend));
        case assess::Vary::passes:
            return fade.ramp == plan::Ramp::joint ? "jointly" : "separately";
        case assess::Vary::width:
        case assess::Vary::position:
            return units.text(Millimetres{assess::ramp_width_mm(fade)});
        case assess::Vary::overlap:
            return fmt::format("{:.0f} %", 100 * fade.overlap.value);
        case assess::Vary::distance:
            break;
    }
    return coat.distance ? units.text(*coat.distance) : "the gun's";
}

}  // namespace fadewright::report
