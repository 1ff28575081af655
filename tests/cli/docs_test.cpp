// tests/docs holds the generated reference as it was accepted, so that a change of words shows in review.

#include "accepted.h"
#include "fadewright/app/commands.h"
#include "published_table.h"

#include <catch2/catch.hpp>

namespace {
using namespace fadewright;
}  // namespace

TEST_CASE("the printed reference is the accepted one", "[cli][docs]") {
    for (const std::string topic : {"plan", "paint", "ground", "gun", "panel", "light", "card", "gun-card",
                                    "record", "rules", "units"}) {
        INFO(topic);
        const app::Outcome outcome = app::help({topic});
        CHECK(outcome.exit == app::Exit::ok);
        CHECK(outcome.out ==
              test::accepted_text(test::source_path("tests/docs/" + topic + ".md"), outcome.out));
    }
}

TEST_CASE("every topic that help lists is explained", "[cli][docs]") {
    const std::string list = app::help({}).out;
    std::size_t topics = 0;
    for (std::size_t at = list.find("\n  "); at != std::string::npos; at = list.find("\n  ", at + 1)) {
        const std::string topic = list.substr(at + 3, list.find('\n', at + 3) - at - 3);
        INFO(topic);
        CHECK(app::help({topic}).out.starts_with("# "));
        ++topics;
    }
    CHECK(topics >= 8);
}
