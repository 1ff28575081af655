// tests/docs holds the reference as it was accepted, so that a change of its text shows in review.

#include "accepted.h"
#include "fadewright/app/commands.h"
#include "fadewright/report/cautions.h"
#include "published_table.h"
#include "run_command.h"

#include <catch2/catch.hpp>

namespace {

using namespace fadewright;

bool contains(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

// The topics that `help` lists, in its order.
std::vector<std::string> listed_topics() {
    const std::string list = test::run(app::help, {}).out;
    std::vector<std::string> topics;
    for (std::size_t at = list.find("\n  "); at != std::string::npos; at = list.find("\n  ", at + 1))
        topics.push_back(list.substr(at + 3, list.find(' ', at + 3) - at - 3));
    return topics;
}

}  // namespace

TEST_CASE("the printed reference is the accepted one", "[cli][docs]") {
    for (const std::string topic : {"plan", "paint", "ground", "gun", "panel", "light", "spray-out-card",
                                    "spray-pattern-card", "record", "rules", "units"}) {
        INFO(topic);
        const app::Outcome outcome = test::run(app::help, {topic});
        CHECK(outcome.exit == app::Exit::ok);
        CHECK(outcome.out ==
              test::accepted_text(test::source_path("tests/docs/" + topic + ".md"), outcome.out));
    }
}

TEST_CASE("every topic that help lists is explained", "[cli][docs]") {
    const std::vector<std::string> topics = listed_topics();
    CHECK(topics.size() >= 24);
    CHECK(topics.front() == "start");
    for (const std::string& topic : topics) {
        INFO(topic);
        CHECK(test::run(app::help, {topic}).out.starts_with("# "));
    }
}

TEST_CASE("a topic with a guide and a reference prints the guide first", "[cli][docs]") {
    for (const std::string topic : {"spray-out-card", "spray-pattern-card", "units"}) {
        INFO(topic);
        const std::string text = test::run(app::help, {topic}).out;
        const std::size_t table = text.find("\n| ");
        CHECK(table != std::string::npos);
        CHECK(text.find("```") < table);
    }
}

TEST_CASE("help safety prints every caution", "[cli][docs]") {
    const std::string text = test::run(app::help, {"safety"}).out;
    CHECK(report::cautions().size() == 8);
    for (const std::string& line : report::cautions()) CHECK(contains(text, "- " + line + "\n"));
}

TEST_CASE("the glossary names the terms that a painter may not know", "[cli][docs]") {
    const std::string glossary = test::run(app::help, {"glossary"}).out;
    for (const std::string term :
         {"dry film", "ΔE00", "L*", "C*", "aspecular angle", "flop", "masstone", "undertone", "let-down",
          "clear base", "reducer", "candy", "dots", "overlap", "transfer efficiency", "banding", "striping",
          // the terms of `help plan`
          "outline pass", "contour pass", "sweep", "spot", "dwell", "arc radius", "heel angle", "lead angle",
          "fan angle", "run-up", "run-down", "feather", "overrun", "trigger on", "trigger off",
          "needle opening", "laydown", "fog", "even coat", "even coat efficiency", "left in gun", "cup size",
          "reserve", "scale division", "flow cup", "flash-off", "recoat", "tape time", "white cut", "extend",
          "reduce", "mid colour", "mid ratio", "midline", "method", "fogged", "stepped", "glazed", "sunburst",
          "ramp", "perceptual", "joint", "step-down", "inward", "base coat", "base film", "observer",
          "ground", "region", "relief", "bevel", "groove", "height map", "angle while sprayed", "gap"}) {
        INFO(term);
        CHECK(contains(glossary, term));
    }
}
