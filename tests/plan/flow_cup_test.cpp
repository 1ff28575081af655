#include "fadewright/plan/flow_cup.h"

#include "fadewright/plan/plan_schema.h"
#include "fadewright/plan/read_plan.h"

#include <catch2/catch.hpp>

#include <memory>
#include <optional>
#include <string>

using namespace fadewright;
using namespace fadewright::plan;

namespace {

std::string plan_text(const std::string& flow_cup) {
    return "plan = 1\npanel = { width = \"100 mm\", height = \"100 mm\" }\n"
           "[mixes.ink]\nparts = { carbon-black = 1 }\nflow_cup = " +
           flow_cup + "\n";
}

struct PlanResult {
    std::optional<Plan> plan;
    std::string errors;

    [[nodiscard]] FlowCupTime value() const { return plan->mixes.front().value.flow_cup.value(); }
};

PlanResult read(const std::string& flow_cup) {
    Diagnostics diagnostics;
    std::optional<Plan> plan =
        read_plan(std::make_shared<Source>("cup.toml", plan_text(flow_cup)), diagnostics);
    return {std::move(plan), to_text(diagnostics)};
}

}  // namespace

TEST_CASE("every flow cup gives the viscosity of its formula", "[plan][flow_cup]") {
    struct Row {
        FlowCup cup;
        double seconds, mm2_per_s;
    };
    // Calculated by hand from the formulas of flow_cup.h.
    const Row rows[] = {{FlowCup::din_4, 14, 63.98 - 32.285714285714285},
                        {FlowCup::din_4, 20, 91.4 - 22.6},
                        {FlowCup::din_4, 60, 274.2 - 7.533333333333333},
                        {FlowCup::ford_4, 13, 49.998 - 17.3},
                        {FlowCup::ford_4, 20, 76.92 - 17.3},
                        {FlowCup::ford_4, 73, 280.758 - 17.3},
                        {FlowCup::zahn_2, 20, 21},
                        {FlowCup::zahn_2, 22, 28},
                        {FlowCup::zahn_2, 34, 70},
                        {FlowCup::zahn_2, 80, 231}};
    for (const Row& row : rows) {
        const FlowCupTime reading{row.cup, Seconds{row.seconds}};
        CAPTURE(flow_cup_text(reading));
        CHECK(kinematic_viscosity_mm2_per_s(reading) == Approx(row.mm2_per_s).epsilon(1e-12));
    }
}

TEST_CASE("the Ford 4 range holds the viscosities of the DIN 4 range", "[plan][flow_cup]") {
    const FlowCupRange& din = kFlowCups[0];
    const FlowCupRange& ford = kFlowCups[1];
    const double min = kinematic_viscosity_mm2_per_s({din.cup, din.min_time});
    const double max = kinematic_viscosity_mm2_per_s({din.cup, din.max_time});
    CHECK(kinematic_viscosity_mm2_per_s({ford.cup, ford.min_time}) >= min);
    CHECK(kinematic_viscosity_mm2_per_s({ford.cup, ford.max_time}) <= max);
    CHECK(min + 3.846 > kinematic_viscosity_mm2_per_s({ford.cup, ford.min_time}));  // one second more
    CHECK(max - 3.846 < kinematic_viscosity_mm2_per_s({ford.cup, ford.max_time}));
}

TEST_CASE("a plan names its flow cup, and a time alone is DIN 4", "[plan][flow_cup]") {
    struct Row {
        std::string written;
        FlowCupTime value;
        std::string canonical;
    };
    const Row rows[] = {{"\"17 s\"", {FlowCup::din_4, Seconds{17.0}}, "\"DIN 4 17 s\""},
                        {"\"DIN 4 17 s\"", {FlowCup::din_4, Seconds{17.0}}, "\"DIN 4 17 s\""},
                        {"\"Ford 4 20 s\"", {FlowCup::ford_4, Seconds{20.0}}, "\"Ford 4 20 s\""},
                        {"\"ford 4 0.5 min\"", {FlowCup::ford_4, Seconds{30.0}}, "\"Ford 4 30 s\""},
                        {"\"Zahn 2 22 s\"", {FlowCup::zahn_2, Seconds{22.0}}, "\"Zahn 2 22 s\""}};
    for (const Row& row : rows) {
        CAPTURE(row.written);
        const PlanResult reading = read(row.written);
        REQUIRE(reading.plan);
        CHECK(reading.value() == row.value);
        const std::string canonical = canonical_text(*reading.plan);
        CHECK(canonical.find("flow_cup = " + row.canonical + "\n") != std::string::npos);
        Diagnostics diagnostics;
        const std::optional<Plan> again =
            read_plan(std::make_shared<Source>("again.toml", canonical), diagnostics);
        REQUIRE(again);
        CHECK(again->mixes == reading.plan->mixes);
    }
}

TEST_CASE("a flow cup time outside the cup's range is an error", "[plan][flow_cup]") {
    for (const std::string wrong : {"\"13 s\"", "\"61 s\"", "\"DIN 4 61 s\"", "\"Ford 4 12 s\"",
                                    "\"Ford 4 74 s\"", "\"Zahn 2 19 s\"", "\"Zahn 2 81 s\""}) {
        CAPTURE(wrong);
        const PlanResult reading = read(wrong);
        CHECK_FALSE(reading.plan);
        CHECK(reading.errors.find("[T020]") != std::string::npos);
    }
    CHECK(read("\"Ford 4 12 s\"").errors.find("Ford 4 13 s to 73 s") != std::string::npos);
    CHECK(read("\"13 s\"").errors.find("DIN 4 14 s to 60 s") != std::string::npos);
}

TEST_CASE("an unknown flow cup and a time without a unit are errors", "[plan][flow_cup]") {
    const PlanResult unknown = read("\"Zahn 3 20 s\"");
    CHECK_FALSE(unknown.plan);
    CHECK(unknown.errors.find("[T023]") != std::string::npos);
    CHECK(unknown.errors.find("known cups: DIN 4, Ford 4, Zahn 2") != std::string::npos);
    CHECK(read("17").errors.find("[T010]") != std::string::npos);
    CHECK_FALSE(read("\"Ford 4\"").plan);
    CHECK_FALSE(read("\"Ford 4 s\"").plan);
}
