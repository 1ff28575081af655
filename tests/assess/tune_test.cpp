// Tuned fades: six between very different colours must reach their target width without banding.
#include "fadewright/assess/tune.h"

#include "fadewright/base/parallel.h"
#include "preset_library.h"
#include "published_table.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <memory>
#include <sstream>

using namespace fadewright;
using namespace fadewright::render;
using namespace fadewright::assess;

namespace {

planner::ResolvedPlan resolved_plan_in(const std::string& below) {
    std::ifstream in(test::source_path(below));
    std::ostringstream text;
    text << in.rdbuf();
    plan::Library library = test::preset_library();
    planner::ResolvedPlan resolved = planner::resolve(std::make_shared<Source>(below, text.str()), library);
    if (!resolved.job) throw std::runtime_error(to_text(resolved.diagnostics));
    return resolved;
}

}  // namespace

TEST_CASE("a tuned fade has the target width, shows no banding and beats every untuned method",
          "[render][tune]") {
    const std::string file = GENERATE(
        as<std::string>{}, "presets/plans/dusk-fade-short.toml", "tests/plans/tune/night-to-ivory.toml",
        "tests/plans/tune/orange-to-blue.toml", "tests/plans/tune/white-to-black.toml",
        "tests/plans/tune/red-to-maroon.toml", "tests/plans/tune/candy-over-silver.toml");
    CAPTURE(file);
    const planner::ResolvedPlan resolved = resolved_plan_in(file);
    TuneOptions options;
    options.trials = 10;
    options.time_limit = Seconds{3000};  // limited by trials, not by time
    plan::Library library = test::preset_library();
    const TuneResult tuned_fade = assess::tune_fade(resolved, options, library);
    REQUIRE(tuned_fade.after.metrics);
    const auto comparison = compare_fade_methods(resolved, library);
    REQUIRE(comparison);
    REQUIRE(comparison->line.target_width);
    const double wanted = comparison->line.target_width->value;
    CHECK(tuned_fade.after.metrics->width.value == Approx(wanted).epsilon(0.05));
    CHECK(tuned_fade.after.metrics->banding_over_threshold < 1);
    CHECK(tuned_fade.after.cost.max_film <= options.max_film);
    CHECK(tuned_fade.after.cost.sag.value <
          1.05);  // the search assesses the line, this check the whole panel
    const TuneObjective objective(*resolved.plan, comparison->results.front().job, options);
    for (const FadeMethodResult& method_result : comparison->results) {
        CAPTURE(static_cast<int>(method_result.id.source), method_result.penalty);
        CHECK(tuned_fade.penalty_after < objective.evaluate(method_result.plan, library).penalty);
    }
    CHECK(tuned_fade.variability.min_width.value < wanted);
    CHECK(tuned_fade.variability.max_width.value > 0.9 * wanted);
}

TEST_CASE("tuning gives the same result on one thread and on two", "[render][tune]") {
    const planner::ResolvedPlan resolved = resolved_plan_in("tests/plans/tune/red-to-maroon.toml");
    TuneOptions options;
    options.trials = 3;
    const auto with_threads = [&](int threads) {
        const ThreadLimit limit(threads);
        return tune_fade(resolved, options, test::preset_library());
    };
    const TuneResult first = with_threads(1), second = with_threads(2);
    CHECK(first.after.plan == second.after.plan);
    CHECK(first.penalty_after == second.penalty_after);
    CHECK(first.trials == second.trials);
    CHECK(first.variability.low_L == second.variability.low_L);
}

TEST_CASE("only settings that may vary differ after tuning", "[render][tune]") {
    const planner::ResolvedPlan resolved = resolved_plan_in("tests/plans/tune/night-to-ivory.toml");
    const plan::Fade& was = *resolved.plan->coats[0].fade;
    TuneOptions options;
    options.trials = 2;
    SECTION("passes alone: solved jointly, with every setting unchanged") {
        options.vary = {Vary::passes};
        const TuneResult found = tune_fade(resolved, options, test::preset_library());
        plan::Fade expected = was;
        expected.ramp = plan::Ramp::joint;
        CHECK(*found.after.plan.coats[0].fade == expected);
        REQUIRE(found.changes.size() == 1);
        CHECK(found.changes[0].vary == Vary::passes);
        CHECK(found.changes[0].gain == Approx(found.penalty_before - found.penalty_after));
    }
    SECTION("order alone: sprayed from the other end, if that is better") {
        options.vary = {Vary::order};
        const TuneResult found = tune_fade(resolved, options, test::preset_library());
        const plan::Fade& is = *found.after.plan.coats[0].fade;
        plan::Fade reversed = was;
        std::swap(reversed.from, reversed.to);
        std::swap(reversed.start, reversed.end);
        CHECK((is == was || is == reversed));
    }
    SECTION("a given width is reached") {
        options.vary = {Vary::passes, Vary::width, Vary::overlap};
        options.width = Millimetres{200};
        options.trials = 6;
        const TuneResult found = tune_fade(resolved, options, test::preset_library());
        REQUIRE(found.after.metrics);
        CHECK(found.after.metrics->width.value == Approx(200).epsilon(0.05));
        CHECK(found.after.plan.coats[0].fade->mid_colours.value_or(1) == 1);
    }
}

TEST_CASE("a sag counts in the objective as much as excess film build", "[render][tune]") {
    const planner::ResolvedPlan resolved = resolved_plan_in("tests/plans/tune/red-to-maroon.toml");
    const plan::Plan& plan = *resolved.plan;
    plan::Library library = test::preset_library();
    TuneOptions options;
    options.max_film = Micrometres{10000};
    const TuneObjective objective(plan, *resolved.job, options);
    const double standing = objective.evaluate(plan, library).penalty;
    const auto sag = assess_method({}, plan, *resolved.job, objective.line()).cost.sag.value;
    REQUIRE(sag < 1);
    // 1.5 times the sag limit on the upright panel, by the figure of the map of defects.
    plan::Plan heavy = plan;
    heavy.coats[0].fade->film = 1.5 / sag * plan.coats[0].fade->film;
    plan::Plan level = heavy;
    level.panel.angle_while_sprayed = Degrees{0};  // nothing runs on a level panel
    CHECK(objective.evaluate(heavy, library).penalty - objective.evaluate(level, library).penalty ==
          Approx(10 * 0.5).margin(1));
    CHECK(standing < objective.evaluate(heavy, library).penalty);
}
