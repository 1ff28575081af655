#include "fadewright/report/phrases_defects.h"

#include "distinct_texts.h"

#include <catch2/catch.hpp>

using namespace fadewright;
using assess::Defect;
using assess::DefectKind;
using assess::Severity;

namespace {

Defect make_defect(DefectKind kind, Severity severity, double value, const assess::DefectFigures& figures) {
    return {kind, "plum", value, 1, severity, Millimetres{120}, Millimetres{80}, Share{0.1}, figures};
}

std::string details(const Defect& defect) { return report::defect_details(defect, {}); }

}  // namespace

TEST_CASE("every kind of defect has a label and a name for files", "[report]") {
    test::check_distinct_texts(assess::kDefectKinds, report::defect_label);
    test::check_distinct_texts(assess::kDefectKinds, assess::defect_name);
}

TEST_CASE("Defects are listed worst first, without those that are ok", "[report]") {
    Defect ok, risk;
    risk.severity = Severity::check;
    const Defect problem = make_defect(DefectKind::holidays, Severity::problem, 0.02,
                                       assess::HolidayFigures{Micrometres{4}, Micrometres{20}});
    const auto listed = report::significant_defects({risk, ok, problem});
    REQUIRE(listed.size() == 2);
    CHECK(listed[0].severity == Severity::problem);
    CHECK(listed[1].severity == Severity::check);
    CHECK(
        report::defect_text(problem, {}) ==
        "problem: misses (holidays) in 'plum': 2.0 % of the panel gets less than half of the film; thinnest "
        "at 120 mm from the left, 80 mm up: 4.0 of 20.0 µm dry");
}

TEST_CASE("a sag is described with the film that would stay, and the remedy of its severity", "[report]") {
    const assess::SagFigures figures{Micrometres{90}, MillimetresPerSecond{0.25}, false};
    CHECK(details(make_defect(DefectKind::sag, Severity::ok, 0.5, figures)) ==
          "90 µm wet at 120 mm from the left, 80 mm up; up to about 180 µm stays there without sagging");
    CHECK_THAT(details(make_defect(DefectKind::sag, Severity::check, 0.8, figures)),
               Catch::Matchers::EndsWith("; let it flash off before the next coat"));
    CHECK_THAT(details(make_defect(DefectKind::sag, Severity::problem, 1.5, figures)),
               Catch::Matchers::EndsWith("; it will run (0.25 mm/s at first): spray more, thinner coats"));
    CHECK_THAT(details(make_defect(DefectKind::sag, Severity::ok, 0,
                                   assess::SagFigures{Micrometres{0}, MillimetresPerSecond{0}, true})),
               Catch::Matchers::EndsWith("up (viscosity assumed: check it with a flow cup)"));
}

TEST_CASE("dry spray has its fringe and its remedy, fog another, and wet paint neither", "[report]") {
    assess::DrySprayFigures figures{1200, Millimetres{30}, Share{0.05}, plan::Laydown::wet};
    const auto text = [&] {
        return details(make_defect(DefectKind::dry_spray, Severity::check, 0.4, figures));
    };
    CHECK_THAT(text(),
               Catch::Matchers::StartsWith("about 12 cm², a fringe about 30 mm wide; dry-spray index up to "
                                           "0.40, gritty on 5.0 % of the panel; go closer"));
    figures.laydown = plan::Laydown::dots;
    CHECK_THAT(text(), Catch::Matchers::EndsWith("; meant as fog: lock it in with clear"));
    figures.fringe_width.reset();
    CHECK_THAT(text(), !Catch::Matchers::Contains("fringe"));
    figures.dry_mm2 = 0;
    CHECK(text() == "lands wet everywhere (dry-spray index up to 0.40)");
}

TEST_CASE("film, edges, stripes and flakes have their own descriptions", "[report]") {
    const assess::StripingFigures stripes{Millimetres{60}, Millimetres{1500}};
    CHECK(details(make_defect(DefectKind::striping, Severity::ok, 0.02, stripes)) ==
          "film varies ±2.0 % every 60 mm; not visible from 1.5 m");
    CHECK_THAT(details(make_defect(DefectKind::striping, Severity::check, 0.02, stripes)),
               Catch::Matchers::Contains("; may show from 1.5 m: overlap more"));
    CHECK(details(make_defect(DefectKind::holidays, Severity::ok, 0,
                              assess::HolidayFigures{std::nullopt, Micrometres{20}})) ==
          "covers the panel without misses");
    CHECK_THAT(details(make_defect(DefectKind::film_build, Severity::check, 160, {})),
               Catch::Matchers::StartsWith("all coats together up to 160 µm dry, at 120 mm"));
    const assess::EdgeFigures grooves{assess::EdgePart::grooves};
    CHECK(details(make_defect(DefectKind::edge, Severity::check, 0.7, grooves)) ==
          "grooves get 70 % of the film of the level areas; aim a pass along them");
    CHECK_THAT(details(make_defect(DefectKind::edge, Severity::check, 1.3, grooves)),
               Catch::Matchers::EndsWith("wet paint gathers there as well"));
    CHECK_THAT(details(make_defect(DefectKind::edge, Severity::check, 0.7, assess::EdgeFigures{})),
               Catch::Matchers::StartsWith("edges get 70 %"));
    const auto flakes = [](assess::FlakeDefect defect) {
        return details(
            make_defect(DefectKind::flakes, Severity::check, 1.2, assess::FlakeFigures{defect, 5}));
    };
    CHECK_THAT(flakes(assess::FlakeDefect::milky), Catch::Matchers::StartsWith("turns milky at 120 mm"));
    CHECK_THAT(flakes(assess::FlakeDefect::patchy), Catch::Matchers::StartsWith("looks patchy at"));
    CHECK_THAT(flakes(assess::FlakeDefect::barely_covering), Catch::Matchers::StartsWith("barely covers at"));
}

TEST_CASE("defects are described in the units of the job", "[report]") {
    const Defect sag = make_defect(DefectKind::sag, Severity::ok, 0.5,
                                   assess::SagFigures{Micrometres{90}, MillimetresPerSecond{0}, false});
    CHECK_THAT(report::defect_details(sag, UnitSystem::us),
               Catch::Matchers::Contains("mils") && !Catch::Matchers::Contains("µm"));
}
