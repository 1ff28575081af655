// Fades tuned: six between very different colours must come out as wide as wanted and without bands.
#include "fadewright/render/tune.h"

#include "fadewright/base/parallel.h"
#include "published.h"
#include "shelf.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <memory>
#include <sstream>

using namespace fadewright;
using namespace fadewright::render;

namespace {

plan::Plan plan_in(const std::string& below) {
    std::ifstream in(test::source_path(below));
    std::ostringstream text;
    text << in.rdbuf();
    Diagnostics diagnostics;
    const auto plan = plan::read_plan(std::make_shared<Source>(below, text.str()), diagnostics);
    if (!plan) throw std::runtime_error(to_text(diagnostics));
    return *plan;
}

}  // namespace

TEST_CASE("a tuned fade is as wide as wanted, shows no bands and beats every way untuned", "[render][tune]") {
    const std::string file = GENERATE(
        as<std::string>{}, "presets/plans/dusk-fade-short.toml", "tests/plans/tune/night-to-ivory.toml",
        "tests/plans/tune/orange-to-blue.toml", "tests/plans/tune/white-to-black.toml",
        "tests/plans/tune/red-to-maroon.toml", "tests/plans/tune/candy-over-silver.toml");
    CAPTURE(file);
    const plan::Plan plan = plan_in(file);
    TuneWish wish;
    wish.looks = 10;
    wish.within = Seconds{3000};  // effort is what counts here
    Diagnostics diagnostics;
    const auto tuned = render::tuned(plan, wish, test::preset_shelf(), diagnostics);
    REQUIRE(tuned);
    REQUIRE(tuned->after.figures);
    plan::Shelf shelf = test::preset_shelf();
    const auto ways = fade_ways(plan, "", shelf, diagnostics);
    REQUIRE(ways);
    REQUIRE(ways->line.wanted);
    const double wanted = ways->line.wanted->value;
    CHECK(tuned->after.figures->width.value == Approx(wanted).epsilon(0.05));
    CHECK(tuned->after.figures->band_times_threshold < 1);
    CHECK(tuned->after.cost.most_film <= wish.most_film);
    CHECK(tuned->after.cost.sag.figure < 1.05);  // the search looks along the line, this all over the panel
    const TuneGoal goal(plan, ways->ways.front().job, wish);
    for (const FadeWay& way : ways->ways) {
        CAPTURE(way.name);
        CHECK(tuned->goal_after < goal.of(way.plan, shelf).sum);
    }
    CHECK(tuned->hand.narrowest.value < wanted);
    CHECK(tuned->hand.widest.value > 0.9 * wanted);
}

TEST_CASE("tuning gives the same on one thread and on two", "[render][tune]") {
    const plan::Plan plan = plan_in("tests/plans/tune/red-to-maroon.toml");
    TuneWish wish;
    wish.looks = 3;
    const auto with_threads = [&](int threads) {
        const ThreadLimit limit(threads);
        Diagnostics diagnostics;
        auto found = tuned(plan, wish, test::preset_shelf(), diagnostics);
        REQUIRE(found);
        return std::move(*found);
    };
    const Tuned one = with_threads(1), two = with_threads(2);
    CHECK(one.after.plan == two.after.plan);
    CHECK(one.goal_after == two.goal_after);
    CHECK(one.looks == two.looks);
    CHECK(one.hand.low_L == two.hand.low_L);
}

TEST_CASE("only what may vary differs after tuning", "[render][tune]") {
    const plan::Plan plan = plan_in("tests/plans/tune/night-to-ivory.toml");
    const plan::Fade& was = *plan.coats[0].fade;
    TuneWish wish;
    wish.looks = 2;
    Diagnostics diagnostics;
    SECTION("passes alone: the road, with every measure as it was") {
        wish.vary = {Vary::passes};
        const auto found = tuned(plan, wish, test::preset_shelf(), diagnostics);
        REQUIRE(found);
        plan::Fade expected = was;
        expected.ramp = plan::Ramp::road;
        CHECK(*found->after.plan.coats[0].fade == expected);
        REQUIRE(found->changes.size() == 1);
        CHECK(found->changes[0].what == "passes found");
        CHECK(found->changes[0].bought == Approx(found->goal_before - found->goal_after));
    }
    SECTION("order alone: from the other end, if that is better, over the same way") {
        wish.vary = {Vary::order};
        const auto found = tuned(plan, wish, test::preset_shelf(), diagnostics);
        REQUIRE(found);
        const plan::Fade& is = *found->after.plan.coats[0].fade;
        plan::Fade turned = was;
        std::swap(turned.from, turned.to);
        std::swap(turned.start, turned.end);
        CHECK((is == was || is == turned));
    }
    SECTION("a width of the painter's own is met") {
        wish.vary = {Vary::passes, Vary::width, Vary::overlap};
        wish.width = Millimetres{200};
        wish.looks = 6;
        const auto found = tuned(plan, wish, test::preset_shelf(), diagnostics);
        REQUIRE(found);
        REQUIRE(found->after.figures);
        CHECK(found->after.figures->width.value == Approx(200).epsilon(0.05));
        CHECK(found->after.plan.coats[0].fade->middles.value_or(1) == 1);
    }
}

TEST_CASE("a sag counts in the goal as much as too much film", "[render][tune]") {
    plan::Plan plan = plan_in("tests/plans/tune/red-to-maroon.toml");
    plan::Shelf shelf = test::preset_shelf();
    Diagnostics diagnostics;
    const auto job = plan::ready_job(plan, "", shelf, diagnostics);
    REQUIRE(job);
    TuneWish wish;
    wish.most_film = Micrometres{10000};
    const TuneGoal goal(plan, *job, wish);
    const double standing = goal.of(plan, shelf).sum;
    const auto sag = judged_way("one", plan, goal.line(), shelf, diagnostics)->cost.sag.figure;
    REQUIRE(sag < 1);
    // Half as much again as holds on the upright panel, by the figure of the faults map.
    plan::Plan heavy = plan;
    heavy.coats[0].fade->film = 1.5 / sag * plan.coats[0].fade->film;
    plan::Plan level = heavy;
    level.panel.inclination = Degrees{0};  // nothing runs on a level panel
    CHECK(goal.of(heavy, shelf).sum - goal.of(level, shelf).sum == Approx(10 * 0.5).margin(1));
    CHECK(standing < goal.of(heavy, shelf).sum);
}
