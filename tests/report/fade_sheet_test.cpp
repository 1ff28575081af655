// The contact sheet of fade methods shows the colours of the JSON.
#include "fadewright/report/fade_report.h"

#include "fadewright/report/format.h"
#include "preset_library.h"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cstdlib>

using namespace fadewright;

namespace {

// Whether the sheet holds a run of these colours from left to right, each within one step of 8 bits.
bool has_run(const Picture& sheet, const std::vector<std::pair<int, report::Rgb>>& run) {
    const auto is_close = [&](int x, int y, const report::Rgb& rgb) {
        const std::uint8_t* p = sheet.pixel(x, y);
        return std::abs(p[0] - rgb.r) <= 1 && std::abs(p[1] - rgb.g) <= 1 && std::abs(p[2] - rgb.b) <= 1;
    };
    for (int y = 0; y < sheet.height; ++y)
        for (int x = 0; x + run.back().first < sheet.width; ++x)
            if (std::all_of(run.begin(), run.end(),
                            [&](const auto& at) { return is_close(x + at.first, y, at.second); }))
                return true;
    return false;
}

}  // namespace

TEST_CASE("the strip of the contact sheet shows the colours of the JSON at the stated scale",
          "[report][fade]") {
    const std::string text =
        "plan = 1\n[panel]\nwidth = \"300 mm\"\nheight = \"360 mm\"\nground = \"white-primer\"\n[[coats]]\n"
        "name = \"fade\"\ngun = \"fan-gun-small\"\n[coats.fade]\nfrom = \"titanium-white\"\n"
        "to = \"quinacridone-violet\"\nfilm = \"12 um\"\nstart = [\"150 mm\", \"300 mm\"]\n"
        "end = [\"150 mm\", \"60 mm\"]\n";
    plan::Library library = test::preset_library();
    const planner::ResolvedPlan resolved =
        planner::resolve(std::make_shared<Source>("fade.toml", text), library);
    REQUIRE(resolved.job);
    assess::FadeMethodComparison methods;
    methods.line = assess::assessment_line(*resolved.plan, resolved.job->panel);
    methods.results.push_back(assess::assess_method({}, *resolved.plan, *resolved.job, methods.line));
    const Picture sheet = report::fade_sheet(methods, "One fade", {Picture(100, 120, 3)});

    // 360 mm on 700 pixels, as stated on the sheet: 1.9 px/mm. A bar shows the colour just before its centre.
    const auto json = nlohmann::json::parse(report::fade_json(methods, "One fade"));
    const double px_per_mm = 700 / methods.line.length_mm();
    std::vector<std::pair<int, report::Rgb>> run;
    for (const auto& colour : json["methods"][0]["colours"]) {
        const double at = colour["at_mm"].get<double>() * px_per_mm;
        const auto lab = colour["Lab"];
        if (at < 5 || at > 695) continue;  // the frame
        run.emplace_back(static_cast<int>(std::ceil(at)), report::display_rgb({lab[0], lab[1], lab[2]}));
    }
    REQUIRE(run.size() > 30);
    const int first = run.front().first;
    for (auto& at : run) at.first -= first;
    CHECK(has_run(sheet, run));
    // The reversed run is not found: the test distinguishes colours and scale.
    std::vector<std::pair<int, report::Rgb>> reversed = run;
    for (std::size_t i = 0; i < run.size(); ++i) reversed[i].second = run[run.size() - 1 - i].second;
    CHECK_FALSE(has_run(sheet, reversed));
}
