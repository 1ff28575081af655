// Edits from one fade to another: nothing else changes, and the text reads as the other plan.
#include "fadewright/plan/fade_diff.h"

#include "fadewright/plan/read_plan.h"
#include "fadewright/text/edit.h"

#include <catch2/catch.hpp>

#include <memory>

using namespace fadewright;

namespace {

const std::string kPlan = R"(plan = 1
[panel]
width = "400 mm"
height = "600 mm"
ground = "white-primer"

[[coats]]
name = "dawn"
gun = "fan-gun-small"
[coats.fade]               # from the top
from = "titanium-white"
to = "quinacridone-violet"
film = "15 um"
start = ["200 mm", "100 mm"]
end = ["200 mm", "500 mm"]
method = "mid-colours"
extend = 2                 # as the last time
reduce = "12 %"
)";

plan::Plan read_plan_text(const std::string& text) {
    Diagnostics diagnostics;
    const auto plan = plan::read_plan(std::make_shared<Source>("plan.toml", text), diagnostics);
    INFO(to_text(diagnostics));
    REQUIRE(plan);
    return *plan;
}

std::string apply_edits(std::string text, const std::vector<plan::TextEdit>& edits) {
    for (const plan::TextEdit& edit : edits) {
        const Result<std::string> next =
            edit.to ? set_value(text, edit.path, *edit.to) : erase_entry(text, edit.path);
        REQUIRE(next);
        text = next.value();
    }
    return text;
}

}  // namespace

TEST_CASE("edits of the text turn one fade into another", "[plan][fade]") {
    const plan::Plan before = read_plan_text(kPlan);
    CHECK(plan::fade_diff(before, before, 0).empty());
    plan::Plan after = before;
    plan::Fade& fade = *after.coats[0].fade;
    fade.method = plan::FadeMethod::over;  // the default: the line is removed
    fade.extend.reset();
    fade.reduce.reset();
    fade.ramp = plan::Ramp::joint;
    fade.overlap = Share{0.8};
    fade.end = plan::Point{Millimetres{200}, Millimetres{450}};
    after.coats[0].distance = Millimetres{180};
    const std::vector<plan::TextEdit> edits = plan::fade_diff(before, after, 0);
    CHECK(edits.size() == 7);
    const std::string text = apply_edits(kPlan, edits);
    INFO(text);
    const plan::Plan now = read_plan_text(text);
    CHECK(*now.coats[0].fade == fade);
    CHECK(now.coats[0].distance == after.coats[0].distance);
    CHECK(text.find("[coats.fade]               # from the top") != std::string::npos);
    const std::vector<plan::TextEdit> home = plan::fade_diff(now, before, 0);
    CHECK(*read_plan_text(apply_edits(text, home)).coats[0].fade == *before.coats[0].fade);
}
