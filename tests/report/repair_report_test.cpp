// The report of a spot repair: extent of every coat, width of the blend, and the card that comes first.
#include "fadewright/report/repair_report.h"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

using namespace fadewright;
using assess::CoatKind;
using assess::Extent;
using Catch::Matchers::Contains;

namespace {

assess::RepairCoat make_coat(const std::string& name, CoatKind kind, Extent extent, double width_mm) {
    assess::RepairCoat coat;
    coat.name = name;
    coat.mix = name;
    coat.kind = kind;
    coat.extent = extent;
    coat.film = coat.min_film = coat.max_film = Micrometres{20};
    coat.fade_width = Millimetres{width_mm};
    return coat;
}

report::RepairReport report_of(std::vector<assess::RepairCoat> coats) {
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
    const auto spot = report_of({make_coat("base", CoatKind::solid, Extent::spot, 300)});
    CHECK_THAT(report::repair_text(spot), Contains("Spray a card first"));
    CHECK(nlohmann::json::parse(report::repair_json(spot))["spray_a_card_first"] == true);
}

TEST_CASE("every kind of coat has its own instructions", "[report][record]") {
    const std::string text =
        report::repair_text(report_of({make_coat("near", CoatKind::solid, Extent::spot, 100),
                                       make_coat("far", CoatKind::transparent, Extent::spot, 300),
                                       make_coat("wide", CoatKind::solid, Extent::panel, 900),
                                       make_coat("red", CoatKind::candy, Extent::panel, 0),
                                       make_coat("pearl", CoatKind::effect, Extent::panel, 0),
                                       make_coat("top", CoatKind::clear, Extent::panel, 0)}));
    CHECK_THAT(text, Contains("near: spot: blend it out 120 mm from the centre\n"));
    CHECK_THAT(text, Contains("far: spot: blend it out 320 mm from the centre; the edge is 150 mm away"));
    CHECK_THAT(text, Contains("wide: the blend does not fit: spray the whole panel"));
    CHECK_THAT(text,
               Contains("red: candy: over the whole panel, or as far as the nearest edge, 150 mm away"));
    CHECK_THAT(text, Contains("pearl: flakes: blend it over the whole panel"));
    CHECK_THAT(text, Contains("top: clear: over the whole panel, or to a break line"));
    CHECK_THAT(text, Contains("blend is 300 mm wide or more"));
}

TEST_CASE("a repair without a visible edge needs no blend, one that does not fit is not a spot repair",
          "[report][record]") {
    auto sharp = report_of({make_coat("base", CoatKind::solid, Extent::spot, 0)});
    sharp.repair.fade_width = {};
    CHECK_THAT(report::repair_text(sharp), Contains("however sharp"));
    auto wide = report_of({make_coat("base", CoatKind::solid, Extent::panel, 2000)});
    wide.repair.fits = false;
    CHECK_THAT(report::repair_text(wide), Contains("no spot repair here"));
}

TEST_CASE("the JSON of a repair has its figures", "[report][record]") {
    const auto json = nlohmann::json::parse(
        report::repair_json(report_of({make_coat("base", CoatKind::solid, Extent::spot, 100),
                                       make_coat("top", CoatKind::clear, Extent::panel, 0)})));
    CHECK(json["coats"][0]["extent"] == "spot");
    CHECK(json["coats"][0]["blend_out_mm"] == 120.0);
    CHECK(json["coats"][1]["blend_out_mm"].is_null());
    CHECK(json["blend_width_mm"] == 300.0);
    CHECK(json["dE00"] == 1.2);
}
