// A renamed mix: the plan reads the same except for the name.
#include "fadewright/plan/rename_mix.h"

#include "fadewright/base/files.h"
#include "fadewright/plan/read_plan.h"
#include "published_table.h"

#include <catch2/catch.hpp>

#include <string>

using namespace fadewright;

namespace {

plan::Plan read_plan_text(const std::string& text) {
    Diagnostics diagnostics;
    const auto plan = plan::read_plan(std::make_shared<const Source>("renamed", text), diagnostics);
    INFO(to_text(diagnostics));
    REQUIRE(plan);
    return *plan;
}

std::string text_of(const char* below) {
    return read_file_bytes(test::source_path(below), kTextFileLimit_bytes).value();
}

}  // namespace

TEST_CASE("a mix is renamed wherever the plan uses it", "[plan][rename]") {
    for (const char* file : {"presets/plans/dusk-fade.toml", "presets/plans/dusk-fade-short.toml"}) {
        const std::string text = text_of(file);
        const std::string other = plan::rename_mix(text, "mixes.plum", "deep violet").value();
        CHECK(other.find("# ") != std::string::npos);
        plan::Plan expected = read_plan_text(text);
        for (auto& mix : expected.mixes) {
            if (mix.name == "plum") mix.name = "deep violet";
            for (auto& part : mix.value.parts)
                if (part.name == "plum") part.name = "deep violet";
        }
        for (plan::Coat& coat : expected.coats) {
            if (coat.mix.value == "plum") coat.mix.value = "deep violet";
            if (coat.fade && coat.fade->from.value == "plum") coat.fade->from.value = "deep violet";
            if (coat.fade && coat.fade->to.value == "plum") coat.fade->to.value = "deep violet";
        }
        CHECK(read_plan_text(other) == expected);
        CHECK(plan::rename_mix(other, "mixes.\"deep violet\"", "plum").value() == text);
    }
}

TEST_CASE("a name in use or a missing mix is an error", "[plan][rename]") {
    const std::string text = text_of("presets/plans/dusk-fade.toml");
    CHECK_FALSE(plan::rename_mix(text, "mixes.plum", "apricot"));
    CHECK_FALSE(plan::rename_mix(text, "mixes.mauve", "grey"));
    CHECK_FALSE(plan::rename_mix(text, "coats.0", "grey"));
    CHECK_FALSE(plan::rename_mix(text, "mixes.plum", ""));
    CHECK_FALSE(plan::rename_mix("plan = ", "mixes.plum", "grey"));
}
