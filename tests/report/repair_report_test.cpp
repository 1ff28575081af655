// A repair as it is told: what may be touched up, how far, and that a card comes first.
#include "fadewright/report/repair_report.h"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

using namespace fadewright;
using Catch::Matchers::Contains;
using render::CoatKind;
using render::Extent;

namespace {

render::RepairCoat coat(const std::string& name, CoatKind kind, Extent touch, double reach_mm) {
    render::RepairCoat one;
    one.name = name;
    one.mix = name;
    one.kind = kind;
    one.extent = touch;
    one.film = one.min_film = one.max_film = Micrometres{20};
    one.fade_width = Millimetres{reach_mm};
    return one;
}

report::RepairReport report_of(std::vector<render::RepairCoat> coats) {
    report::RepairReport out;
    out.basis = "the plan";
    out.repair.request.diameter = Millimetres{40};
    out.repair.lab = {50, 20, 20};
    out.repair.nearest_edge = Millimetres{150};
    out.repair.farthest_edge = Millimetres{900};
    out.repair.dE = 1.2;
    out.repair.fade_width = Millimetres{300};
    out.repair.coats = std::move(coats);
    return out;
}

}  // namespace

TEST_CASE("a card comes first, whatever is repaired", "[report][record]") {
    const auto one = report_of({coat("base", CoatKind::solid, Extent::spot, 300)});
    CHECK_THAT(report::repair_text(one), Contains("Spray a card first"));
    CHECK(nlohmann::json::parse(report::repair_json(one))["spray_a_card_first"] == true);
}

TEST_CASE("every kind of coat has its own way", "[report][record]") {
    const std::string text = report::repair_text(report_of(
        {coat("near", CoatKind::solid, Extent::spot, 100),
         coat("far", CoatKind::transparent, Extent::spot, 300),
         coat("wide", CoatKind::solid, Extent::panel, 900), coat("red", CoatKind::candy, Extent::panel, 0),
         coat("pearl", CoatKind::effect, Extent::panel, 0), coat("top", CoatKind::clear, Extent::panel, 0)}));
    CHECK_THAT(text, Contains("near: spot: fade it out to nothing 120 mm from the middle\n"));
    CHECK_THAT(text,
               Contains("far: spot: fade it out to nothing 320 mm from the middle; the edge is 150 mm away"));
    CHECK_THAT(text, Contains("wide: its fade would not fit on the panel"));
    CHECK_THAT(text,
               Contains("red: candy: over the whole panel, or as far as the nearest edge, 150 mm away"));
    CHECK_THAT(text, Contains("pearl: flakes: blend it over the whole panel"));
    CHECK_THAT(text, Contains("top: clear: over the whole panel, or to a break line"));
    CHECK_THAT(text, Contains("fades away over 300 mm or more"));
}

TEST_CASE("a repair that shows no edge needs no fade, one that is too wide is refused in words",
          "[report][record]") {
    auto sharp = report_of({coat("base", CoatKind::solid, Extent::spot, 0)});
    sharp.repair.fade_width = {};
    CHECK_THAT(report::repair_text(sharp), Contains("however sharp"));
    auto wide = report_of({coat("base", CoatKind::solid, Extent::panel, 2000)});
    wide.repair.fits = false;
    CHECK_THAT(report::repair_text(wide), Contains("no spot repair here"));
}

TEST_CASE("a repair as JSON has its figures", "[report][record]") {
    const auto json = nlohmann::json::parse(report::repair_json(report_of(
        {coat("base", CoatKind::solid, Extent::spot, 100), coat("top", CoatKind::clear, Extent::panel, 0)})));
    CHECK(json["coats"][0]["touch"] == "spot");
    CHECK(json["coats"][0]["fades_out_mm"] == 120.0);
    CHECK(json["coats"][1]["fades_out_mm"].is_null());
    CHECK(json["fade_mm"] == 300.0);
    CHECK(json["dE00"] == 1.2);
}
