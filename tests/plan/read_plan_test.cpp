// Suggestions for unknown keys and words of a plan.
#include "fadewright/plan/read_plan.h"

#include <catch2/catch.hpp>

#include <memory>
#include <string>

using namespace fadewright;

namespace {

std::string errors_of(const std::string& text) {
    Diagnostics diagnostics;
    const auto plan = plan::read_plan(std::make_shared<Source>("plan.toml", text), diagnostics);
    CHECK_FALSE(plan);
    return to_text(diagnostics);
}

const std::string kPanel = "plan = 1\npanel = { width = \"100 mm\", height = \"100 mm\" }\n";

}  // namespace

TEST_CASE("an unknown key suggests the key that is meant", "[plan]") {
    struct Row {
        std::string before, key, value, suggestion;
    };
    const std::string coat = kPanel + "[[coats]]\nname = \"one\"\n";
    const std::string fade = coat + "[coats.fade]\nfrom = \"a\"\nto = \"b\"\nfilm = \"10 um\"\n";
    const std::string mixing = kPanel + "[mixing]\n";
    const Row rows[] = {{coat, "needle", "\"50 %\"", "needle_opening"},
                        {coat, "outline_pass", "[]", "outline_passes"},
                        {coat, "evencoat", "{ film = \"10 um\" }", "even_coat"},
                        {fade, "mid_colors", "1", "mid_colours"},
                        {fade, "ratio", "1", "mid_ratio"},
                        {mixing, "safety", "[\"Hood on\"]", "safety_extra"},
                        {mixing, "efficiency", "\"50 %\"", "even_coat_efficiency"}};
    for (const Row& row : rows) {
        const std::string errors = errors_of(row.before + row.key + " = " + row.value + "\n");
        INFO(errors);
        CHECK(errors.find("unknown name '" + row.key + "'") != std::string::npos);
        CHECK(errors.find("did you mean '" + row.suggestion + "'?") != std::string::npos);
    }
}

TEST_CASE("an unknown key without a similar one lists the keys", "[plan]") {
    const std::string errors = errors_of(
        kPanel +
        "[[coats]]\nname = \"one\"\n[coats.fade]\nfrom = \"a\"\nto = \"b\"\nfilm = \"10 um\"\nswinging = 1\n");
    INFO(errors);
    CHECK(errors.find("from, to, method, film") != std::string::npos);
    CHECK(errors.find("did you mean") == std::string::npos);
}

TEST_CASE("a word that is almost a choice suggests the choice", "[plan]") {
    const std::string coat = kPanel + "[[coats]]\nname = \"one\"\n";
    CHECK(errors_of(coat + "laydown = \"dot\"\n").find("did you mean 'dots'?") != std::string::npos);
    const std::string fade = coat + "[coats.fade]\nfrom = \"a\"\nto = \"b\"\nfilm = \"10 um\"\n";
    CHECK(errors_of(fade + "method = \"mid-colour\"\n").find("did you mean 'mid-colours'?") !=
          std::string::npos);
    CHECK(errors_of(fade + "ramp = \"perceptuel\"\n").find("did you mean 'perceptual'?") !=
          std::string::npos);
}
