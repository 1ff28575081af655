// The passes of one graded coat.
#include "fade_passes.h"

#include "fadewright/planner/fade.h"
#include "preset_library.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace fadewright;
using namespace fadewright::plan;
using namespace fadewright::planner;

namespace {

Point at(double x, double y) { return {Millimetres{x}, Millimetres{y}}; }

const geometry::Outline kPanel = geometry::Outline::rectangle(Millimetres{400}, Millimetres{600}, {});

Coat coat_with_fade(double start_mm, double end_mm) {
    Coat coat;
    coat.name = "sky";
    coat.fade.emplace();
    coat.fade->start = at(200, start_mm);
    coat.fade->end = at(200, end_mm);
    coat.fade->film = Micrometres{15};
    return coat;
}

const RampZone kZone{-150, 150};

}  // namespace

TEST_CASE("candidate lines are spaced evenly by the overlap, in alternating directions", "[plan][fade]") {
    Library library = test::preset_library();
    const Coat coat = coat_with_fade(150, 450);
    const FadeGun gun = make_fade_gun(coat, {"fan-gun-small", {}}, *library.gun("fan-gun-small"));
    const FadeGeometry geometry(*coat.fade, kPanel, nullptr);
    Diagnostics diagnostics;
    const auto lines = candidate_lines(coat, *coat.fade, kZone, gun, geometry, diagnostics);
    REQUIRE(lines);
    REQUIRE(lines->size() > 5);
    const double spacing = (*lines)[1].u_mm - (*lines)[0].u_mm;
    CHECK(spacing == Approx(0.25 * spray::pass_width(gun.gun, {}).value).margin(0.6));
    for (std::size_t i = 1; i < lines->size(); ++i) {
        CHECK((*lines)[i].u_mm - (*lines)[i - 1].u_mm == Approx(spacing));
        const auto& before = std::get<Pass>((*lines)[i - 1].movement).path;
        const auto& now = std::get<Pass>((*lines)[i].movement).path;
        CHECK((before[1].x > before[0].x) != (now[1].x > now[0].x));
    }
}

TEST_CASE("more lines than a coat may have passes are a mistake", "[plan][fade]") {
    Library library = test::preset_library();
    Coat coat = coat_with_fade(150, 450);
    coat.fade->overlap = Share{0.9999};
    const geometry::Outline large = geometry::Outline::rectangle(Millimetres{3000}, Millimetres{3000}, {});
    const FadeGun gun = make_fade_gun(coat, {"detail-gun-round", {}}, *library.gun("detail-gun-round"));
    const FadeGeometry geometry(*coat.fade, large, nullptr);
    Diagnostics diagnostics;
    CHECK_FALSE(candidate_lines(coat, *coat.fade, kZone, gun, geometry, diagnostics));
    REQUIRE(diagnostics.sorted_list().size() == 1);
    CHECK(diagnostics.sorted_list()[0].rule == "P030");
}

TEST_CASE("a graded coat has the name, mix and gun of its stage, and no fade", "[plan][fade]") {
    Library library = test::preset_library();
    Coat coat = coat_with_fade(150, 450);
    coat.speed = MillimetresPerSecond{350};
    const FadeGun gun = make_fade_gun(coat, {"fan-gun-small", {}}, *library.gun("fan-gun-small"));
    FadeCoat stage{"violet", "quinacridone-violet", kZone, Micrometres{15}, "titanium-white", FadeRole::end};
    const Coat graded = coat_without_fade(coat, stage, gun);
    CHECK(graded.name == "sky: violet");
    CHECK(graded.mix.value == "quinacridone-violet");
    CHECK(graded.gun.value == "fan-gun-small");
    CHECK_FALSE(graded.fade);
    CHECK_FALSE(graded.speed);
    CHECK(graded.laydown == Laydown::wet);
    stage.role = FadeRole::fog;
    CHECK(coat_without_fade(coat, stage, gun).laydown == Laydown::dots);
}

TEST_CASE("a fade beside the panel sprays nothing, which is a mistake", "[plan][fade]") {
    Library library = test::preset_library();
    const Coat coat = coat_with_fade(3150, 3450);
    const FadeGun gun = make_fade_gun(coat, {"fan-gun-small", {}}, *library.gun("fan-gun-small"));
    const FadeGeometry geometry(*coat.fade, kPanel, nullptr);
    const FadeCoat stage{"violet",        "quinacridone-violet", kZone,
                         Micrometres{15}, "titanium-white",      FadeRole::end};
    Diagnostics diagnostics;
    CHECK_FALSE(solve_fade_coat(coat, stage, RampProfile(Ramp::linear), gun, geometry, 0.4, diagnostics));
    REQUIRE(diagnostics.sorted_list().size() == 1);
    CHECK(diagnostics.sorted_list()[0].rule == "P030");
}

TEST_CASE("only a burst tips the gun", "[plan][fade]") {
    Fade fade;
    CHECK(fade_heel_angle(fade).value == 0);
    fade.method = FadeMethod::burst;
    CHECK(fade_heel_angle(fade).value == 30);
    fade.heel_angle = Degrees{12};
    CHECK(fade_heel_angle(fade).value == 12);
}
