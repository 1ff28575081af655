// Movements of a plan as passes of the gun.
#include "fadewright/plan/spray_passes.h"

#include "preset_library.h"

#include <catch2/catch.hpp>

using namespace fadewright;
using namespace fadewright::plan;

namespace {

Point at(double x, double y) { return {Millimetres{x}, Millimetres{y}}; }

std::vector<std::string> rules_of(const Diagnostics& diagnostics) {
    std::vector<std::string> rules;
    for (const Diagnostic& mistake : diagnostics.sorted_list()) rules.push_back(mistake.rule);
    return rules;
}

}  // namespace

TEST_CASE("a pass without speed and distance has those of its coat, and these default to the gun's",
          "[plan][passes]") {
    Coat coat;
    const MovementDefaults defaults{MillimetresPerSecond{300}, &coat};
    Pass pass;
    pass.path = {at(0, 0), at(100, 0)};
    CHECK(to_spray(pass, defaults).speed.value == 300);
    CHECK_FALSE(to_spray(pass, defaults).distance);
    coat.speed = MillimetresPerSecond{400};
    coat.distance = Millimetres{120};
    CHECK(to_spray(pass, defaults).speed.value == 400);
    CHECK(to_spray(pass, defaults).distance->value == 120);
    pass.speed = MillimetresPerSecond{500};
    pass.distance = Millimetres{90};
    CHECK(to_spray(pass, defaults).speed.value == 500);
    CHECK(to_spray(pass, defaults).distance->value == 90);
}

TEST_CASE("a coat's flow replaces the gun's", "[plan][passes]") {
    Library library = test::preset_library();
    const LibraryGun* gun = library.gun("fan-gun-small");
    REQUIRE(gun);
    Coat coat;
    CHECK(gun_as_set(coat, gun->gun).flow == gun->gun.flow);
    coat.flow = MillilitresPerMinute{12};
    CHECK(gun_as_set(coat, gun->gun).flow.value == 12);
}

TEST_CASE("a contour runs along the outline at its offset, or nowhere if that is too far inside",
          "[plan][passes]") {
    const geometry::Outline outline = geometry::Outline::rectangle(Millimetres{300}, Millimetres{200}, {});
    const Coat coat;
    const MovementDefaults defaults{MillimetresPerSecond{300}, &coat};
    OutlinePass contour;
    contour.offset = Millimetres{-40};
    const std::vector<spray::Pass> rings = trace_outline_pass(contour, outline, defaults);
    REQUIRE(rings.size() == 1);
    CHECK(rings[0].points.front() == rings[0].points.back());
    for (const geometry::Point& p : rings[0].points)
        CHECK(outline.signed_distance_mm(p.x.value, p.y.value) == Approx(-40).margin(0.2));
    contour.offset = Millimetres{-110};
    CHECK(trace_outline_pass(contour, outline, defaults).empty());
}

TEST_CASE("speeds along an offset path keep their places", "[plan][passes]") {
    const Coat coat;
    const MovementDefaults defaults{MillimetresPerSecond{300}, &coat};
    OutlinePass line;
    line.path = {at(0, 0), at(200, 0), at(400, 0)};
    line.speeds = {MillimetresPerSecond{100}, MillimetresPerSecond{200}, MillimetresPerSecond{400}};
    line.offset = Millimetres{30};
    const std::vector<spray::Pass> passes = trace_outline_pass(line, defaults);
    REQUIRE(passes.size() == 1);
    REQUIRE(passes[0].speeds.size() == passes[0].points.size());
    for (std::size_t i = 0; i < passes[0].points.size(); ++i) {
        const double x = passes[0].points[i].x.value;
        CHECK(passes[0].points[i].y.value == Approx(30));  // to the left
        CHECK(passes[0].speeds[i].value == Approx(x <= 200 ? 100 + x / 2 : x));
    }
}

TEST_CASE("a pass needs one path or arc, and points that fit its movement", "[plan][passes]") {
    const auto rules = [](const Pass& pass) {
        Diagnostics diagnostics;
        check_movement(pass, diagnostics);
        return rules_of(diagnostics);
    };
    Pass pass;
    CHECK(rules(pass) == std::vector<std::string>{"P024"});
    pass.path = {at(0, 0), at(0, 0)};
    CHECK(rules(pass) == std::vector<std::string>{"P008"});
    pass.path = {at(0, 0), at(10, 0), at(20, 0)};
    CHECK(rules(pass).empty());
    pass.speeds = {MillimetresPerSecond{100}, MillimetresPerSecond{200}};
    CHECK(rules(pass) == std::vector<std::string>{"P023"});
    pass.dwell = Seconds{1};
    CHECK(rules(pass) == std::vector<std::string>{"P008", "P023"});
}

TEST_CASE("repeated points count once", "[plan][passes]") {
    CHECK(distinct_point_count({}) == 0);
    CHECK(distinct_point_count({at(1, 1), at(1, 1), at(2, 1), at(1, 1)}) == 3);
}
