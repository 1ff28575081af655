#include "fadewright/report/phrases_methods.h"
#include "fadewright/planner/resolve.h"

#include "distinct_texts.h"
#include "fadewright/report/fade_report.h"
#include "preset_library.h"

#include <catch2/catch.hpp>

#include <array>

using namespace fadewright;
using assess::FadeSource;
using assess::FadeVariation;
using assess::Vary;
using Catch::Matchers::Contains;

namespace {

plan::Plan plan_with_fade() {
    plan::Plan plan;
    plan.coats.emplace_back();
    plan::Fade fade;
    fade.from.value = "pale";
    fade.to.value = "deep";
    fade.mid_ratio = 1.5;
    fade.width = Millimetres{200};
    plan.coats.back().fade = fade;
    return plan;
}

assess::FadeMethodResult method(FadeSource source, std::optional<FadeVariation> variation) {
    assess::FadeMethodResult out;
    out.id = {source, variation};
    out.plan = plan_with_fade();
    return out;
}

// A method whose job has an even base, and a mid colour named by chance, not by rule.
assess::FadeMethodResult mid_colour_method(FadeSource source, FadeVariation variation, double binder) {
    assess::FadeMethodResult out = method(source, variation);
    plan::ResolvedCoat base, mid;
    base.name = base.mix_name = "mid-colour";  // a mix of the painter's own
    base.mix.binder_g_per_litre = 999;
    base.fade_role = plan::FadeRole::base;
    mid.name = mid.mix_name = "dusk";
    mid.mix.binder_g_per_litre = binder;
    mid.fade_role = plan::FadeRole::mid_colour;
    out.job.coats = {base, mid};
    return out;
}

}  // namespace

TEST_CASE("every variation, criterion and setting has a label of its own", "[report][fade]") {
    const plan::Fade fade = *plan_with_fade().coats[0].fade;
    test::check_distinct_texts(assess::kFadeVariations, [&](FadeVariation variation) {
        return report::variation_label(variation, fade);
    });
    test::check_distinct_texts(assess::kFadeCriteria, [](assess::FadeCriterion criterion) {
        return report::describe_advantage({criterion, 1, 2});
    });
    constexpr std::array kSettings{Vary::method,  Vary::order,   Vary::mid_colours, Vary::mid_ratio,
                                   Vary::extend,  Vary::passes,  Vary::width,       Vary::position,
                                   Vary::overlap, Vary::distance};
    test::check_distinct_texts(kSettings, report::setting_label);
    for (const Vary setting : kSettings) CHECK_FALSE(report::setting_text(setting, plan_with_fade()).empty());
}

TEST_CASE("a method is named by whose it is and by its variation", "[report][fade]") {
    CHECK(report::method_name(method(FadeSource::plan, std::nullopt)) == "your plan");
    CHECK(report::method_name(method(FadeSource::tuned, std::nullopt)) == "tuned");
    CHECK(report::method_name(method(FadeSource::variation, FadeVariation::over)) ==
          "deep straight over pale");
    CHECK(report::method_name(method(FadeSource::plan, FadeVariation::mid_colour_at_midpoint)) ==
          "your plan: one mid colour at the visual midpoint (1.50:1)");
}

TEST_CASE("the advice names the best method, its lead and the runner-up", "[report][fade]") {
    assess::FadeMethodComparison methods;
    methods.results = {method(FadeSource::plan, std::nullopt)};
    CHECK(report::advice_text(methods) == "your plan: the only possible method");
    methods.results.push_back(method(FadeSource::variation, FadeVariation::fogged));
    methods.best = 1;
    methods.runner_up = 0;
    CHECK(report::advice_text(methods) == "fogged from both sides: no clear winner. Runner-up: your plan");
    methods.advantage = {assess::FadeCriterion::passes, 12, 20};
    CHECK(report::advice_text(methods) ==
          "fogged from both sides: 12 passes instead of 20. Runner-up: your plan");
}

TEST_CASE("extending and thinning are compared whatever their coats are called", "[report][fade]") {
    assess::FadeMethodComparison methods;
    methods.results = {mid_colour_method(FadeSource::plan, FadeVariation::mid_colour_extended, 150),
                       mid_colour_method(FadeSource::variation, FadeVariation::mid_colour_reduced, 60)};
    const std::string text = report::describe_extension(methods);
    CHECK_THAT(text, Contains("keeps 150 g/L binder ready to spray") && Contains("it keeps 60 g/L") &&
                         !Contains("999"));
    methods.results.pop_back();
    CHECK(report::describe_extension(methods).empty());
}

TEST_CASE("the report of compared methods has the paragraph on extending", "[report][fade]") {
    const std::string text =
        "plan = 1\n[panel]\nwidth = \"300 mm\"\nheight = \"300 mm\"\nground = \"white-primer\"\n[[coats]]\n"
        "name = \"fade\"\ngun = \"fan-gun-small\"\n[coats.fade]\nfrom = \"titanium-white\"\n"
        "to = \"quinacridone-violet\"\nfilm = \"12 um\"\nstart = [\"150 mm\", \"280 mm\"]\n"
        "end = [\"150 mm\", \"40 mm\"]\nmethod = \"mid-colours\"\nmid_colours = 1\nextend = 2\n"
        "reduce = \"12 %\"\n";
    plan::Library library = test::preset_library();
    const planner::ResolvedPlan resolved =
        planner::resolve(std::make_shared<Source>("fade.toml", text), library);
    REQUIRE(resolved.job);
    const auto methods = assess::compare_fade_methods(resolved, library);
    REQUIRE(methods);
    CHECK_THAT(report::fade_text(*methods, "One fade"),
               Contains("your plan: one mid colour, extended 2:1") &&
                   Contains("The mid colour extended 2:1 with clear base keeps"));
}

TEST_CASE("times are rounded up to whole seconds in a summary", "[report][fade]") {
    assess::FadeMethodResult result = method(FadeSource::plan, std::nullopt);
    result.cost.passes = 3;
    result.cost.trigger_time = Seconds{78.2};
    CHECK(report::fade_summary(result).back() == "3 passes, 1 min 19 s trigger time");
}
