// Ramps of film, and the amounts, speeds and repeats of passes that make them.
#include "fade_film.h"

#include "fadewright/planner/fade.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace fadewright;
using namespace fadewright::plan;
using namespace fadewright::planner;

TEST_CASE("the share between 10 and 90 % of a ramp is that of its profile", "[plan][fade]") {
    for (const Ramp ramp : {Ramp::linear, Ramp::smooth}) {
        const RampProfile profile(ramp);
        const auto position_of = [&](double share) {
            double low = 0, high = 1;
            for (int i = 0; i < 60; ++i)
                (profile.share_at((low + high) / 2) < share ? low : high) = (low + high) / 2;
            return low;
        };
        CHECK(ten_to_ninety_share(ramp) == Approx(position_of(0.9) - position_of(0.1)));
    }
}

TEST_CASE("a zone builds over its rise and fades out over its fall", "[plan][fade]") {
    const RampProfile linear(Ramp::linear);
    const RampZone zone{-50, 50, 80, 120};
    CHECK(zone.share(-60, linear) == 0);
    CHECK(zone.share(0, linear) == Approx(0.5));
    CHECK(zone.share(60, linear) == Approx(1));
    CHECK(zone.share(110, linear) == Approx(0.25));
    CHECK(zone.share(130, linear) == 0);
}

TEST_CASE("the edge of a single pass is as wide as its cumulative profile from 10 to 90 %", "[plan][fade]") {
    std::vector<double> even(1001, 1.0);
    CHECK(edge_width_mm(even, 0.1) == Approx(0.8 * 100.1).epsilon(1e-3));
}

TEST_CASE("fitted amounts are never negative and reproduce a film that passes can make", "[plan][fade]") {
    std::vector<std::vector<double>> columns;
    for (int j = 0; j < 9; ++j) {
        std::vector<double>& column = columns.emplace_back();
        for (int i = 0; i < 90; ++i) column.push_back(std::exp(-0.5 * std::pow((i - 10 * j) / 9.0, 2)));
    }
    std::vector<double> target(90, 0.0);
    for (std::size_t i = 0; i < 90; ++i)
        for (std::size_t j = 4; j < 9; ++j) target[i] += columns[j][i];
    const std::vector<double> amounts = fit_amounts(columns, target);
    for (std::size_t i = 0; i < 90; ++i) {
        double film = 0;
        for (std::size_t j = 0; j < 9; ++j) film += amounts[j] * columns[j][i];
        CHECK(film == Approx(target[i]).margin(0.06));
    }
    // No passes make a step: the amounts stay at 0 where they would have to remove paint.
    std::fill(target.begin(), target.end(), 0.0);
    std::fill(target.begin() + 45, target.end(), 1.0);
    const std::vector<double> step = fit_amounts(columns, target);
    CHECK(*std::min_element(step.begin(), step.end()) >= 0);
}

TEST_CASE("lines that leave only a trace on the panel do not reach it", "[plan][fade]") {
    CHECK(lines_reaching_panel({{0, 0.001}, {0.2, 1}, {0, 0}}) == std::vector<bool>{false, true, false});
    CHECK(lines_reaching_panel({}).empty());
}

TEST_CASE("an amount becomes a round speed that a hand can keep, repeated if it is too slow",
          "[plan][fade]") {
    const SpeedAndRepeats once = speed_and_repeats(1.0 / 432, 100);
    CHECK(once.repeats == 1);
    CHECK(once.speed.value == 430);
    const SpeedAndRepeats twice = speed_and_repeats(1.0 / 60, 100);
    CHECK(twice.repeats == 2);
    CHECK(twice.speed.value == 120);
    CHECK(speed_and_repeats(1.0 / 5000, 100).speed == kMaxSpeed);
}

TEST_CASE("the flow is turned down until the smallest amount can be sprayed, unless it was given",
          "[plan][fade]") {
    const std::vector<double> amounts{1.0 / 3000, 1.0 / 1000, 0};
    const PassSpeedLimits own{MillilitresPerMinute{100}, false, MillimetresPerSecond{300}, 0.01};
    const PassSpeeds lowered = pass_speeds(amounts, own);
    CHECK(lowered.flow.value == Approx(50));
    REQUIRE(lowered.passes[0]);
    CHECK(lowered.passes[0]->speed == kMaxSpeed);
    CHECK(lowered.passes[1]->speed.value == Approx(500));
    CHECK_FALSE(lowered.passes[2]);
    PassSpeedLimits given = own;
    given.flow_given = true;
    CHECK(pass_speeds(amounts, given).flow.value == 100);
}
