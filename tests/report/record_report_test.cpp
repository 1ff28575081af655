// The report of the job log.
#include "fadewright/report/record_report.h"

#include "fadewright/base/files.h"
#include "fadewright/plan/read_plan.h"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

using namespace fadewright;
using Catch::Matchers::Contains;

namespace {

const std::string kBefore = "plan = 1\n[panel]\nwidth = \"300 mm\"\nheight = \"200 mm\"\n";
const std::string kNow = "plan = 1\n[panel]\nwidth = \"310 mm\"\nheight = \"200 mm\"\n";

plan::Plan plan_of(const std::string& text) {
    Diagnostics diagnostics;
    return plan::read_plan(std::make_shared<Source>("plan", text), diagnostics).value();
}

production::JobLog record_by(const std::string& plan_text) {
    production::JobLog record;
    record.plans = {{{sha256_hex(plan_text), {}}, plan_text, {}}};
    production::LogEntry entry;
    entry.date.value = "2026-03-01T14:05:00Z";
    entry.plan.value = sha256_hex(plan_text);
    entry.mix = Located<std::string>{"plum", {}};
    entry.grams = {{"a", Grams{12.3}, {}}, {"b", Grams{1.1}, {}}};
    entry.coat = Located<std::string>{"base", {}};
    entry.film = Micrometres{14};
    entry.at = plan::Point{Millimetres{10}, Millimetres{20}};
    entry.note = "odd \x1B[31m note";
    record.entries = {entry};
    return record;
}

report::RecordReport report_of(const std::string& by, const std::string& now) {
    return report::make_record_report("a.record.toml", record_by(by), plan_of(now), now);
}

}  // namespace

TEST_CASE("an entry is reported with its total weight", "[report][record]") {
    const std::string text = report::record_text(report_of(kNow, kNow));
    CHECK_THAT(text, Contains("a.record.toml: 1 entry\n"));
    CHECK_THAT(text, Contains("2026-03-01 14:05 UTC, plan " + sha256_hex(kNow).substr(0, 8) + "\n"));
    CHECK_THAT(text, Contains("mixed 'plum': a 12.3 g, b 1.1 g; total 13.4 g"));
    CHECK_THAT(text, Contains("measured dry film of 'base': 14 µm at 10 mm, 20 mm"));
    CHECK_THAT(text, !Contains("sprayed"));
    CHECK_THAT(text, !Contains("changed since"));
    CHECK_THAT(text, Contains("odd ?[31m note"));  // no control characters for the terminal
}

TEST_CASE("changes in the plan since are reported, also comments only or an unreadable plan",
          "[report][record]") {
    CHECK_THAT(report::record_text(report_of(kBefore, kNow)),
               Contains("changed since") && Contains("panel: width 300 mm -> 310 mm"));
    CHECK_THAT(report::record_text(report_of(kNow + "# a comment\n", kNow)),
               Contains("only comments or layout"));
    CHECK_THAT(report::record_text(report_of("plan = 77\n", kNow)),
               Contains("cannot be read by this version"));
}

TEST_CASE("the JSON of the job log agrees with the text", "[report][record]") {
    const auto json = nlohmann::json::parse(report::record_json(report_of(kBefore, kNow)));
    CHECK(json["plan_sha256"] == sha256_hex(kNow));
    CHECK(json["plans"][0]["changes"] == nlohmann::json{"panel: width 300 mm -> 310 mm"});
    CHECK(json["plans"][0]["current"] == false);
    CHECK(json["entries"][0]["weights"]["b"] == 1.1);
    CHECK(json["entries"][0]["at_mm"] == nlohmann::json{10.0, 20.0});
    CHECK_FALSE(json["entries"][0].contains("humidity"));
}
