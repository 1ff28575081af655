// The job log: entries read back unchanged, and existing text is not touched.
#include "fadewright/production/job_log.h"

#include "fadewright/base/files.h"
#include "fadewright/plan/read_plan.h"
#include "fadewright/production/job_log_schema.h"
#include "published_table.h"

#include <catch2/catch.hpp>
#include <set>

using namespace fadewright;
using production::JobLog;
using production::LogEntry;

namespace {

const std::string kPlan =
    "plan = 1\n[panel]\nwidth = \"300 mm\"\nheight = \"200 mm\"\n[mixes.plum]\nparts = { quinacridone-violet "
    "= 6 "
    "}\n[[coats]]\nname = \"base\"\nmix = \"plum\"\neven_coat.film = \"20 um\"\n";

JobLog read_log(const std::string& text) {
    Diagnostics diagnostics;
    const auto job_log =
        production::read_job_log(std::make_shared<Source>("a.record.toml", text), diagnostics);
    INFO(to_text(diagnostics));
    REQUIRE(job_log);
    return *job_log;
}

LogEntry note_entry(const std::string& note) {
    LogEntry entry;
    entry.date.value = "2026-03-01T14:05:00Z";
    entry.note = note;
    return entry;
}

std::string append(const std::string& existing, const LogEntry& entry, const std::string& plan_text) {
    return existing + production::log_addition(existing, read_log(existing), entry, plan_text);
}

LogEntry full_entry() {
    LogEntry entry = note_entry("left half first; \"wet\" at the end\nsecond line");
    entry.mix = Located<std::string>{"plum", {}};
    entry.grams = {{"quinacridone-violet", Grams{12.3}, {}}, {"titanium-white", Grams{1.1}, {}}};
    entry.batches = {{"titanium-white", "B 1207/3", {}}};
    entry.coat = Located<std::string>{"base", {}};
    entry.film = Micrometres{14};
    entry.at = plan::Point{Millimetres{150}, Millimetres{80.5}};
    entry.temperature = Celsius{21.5};
    entry.humidity = Share{0.45};
    entry.gun = production::GunSettings{};
    entry.gun->air = Bar{1.2};
    entry.gun->needle_opening = Share{0.5};
    return entry;
}

}  // namespace

TEST_CASE("an entry with every field reads back unchanged", "[plan][record]") {
    const LogEntry entry = full_entry();
    const JobLog job_log = read_log(append("", entry, kPlan));
    REQUIRE(job_log.entries.size() == 1);
    const LogEntry& back = job_log.entries.front();
    CHECK(back.date == entry.date);
    CHECK(back.plan.value == sha256_hex(kPlan));
    CHECK(back.mix == entry.mix);
    CHECK(back.grams == entry.grams);
    CHECK(back.batches == entry.batches);
    CHECK(back.coat == entry.coat);
    CHECK(back.film == entry.film);
    CHECK(back.at == entry.at);
    CHECK(back.temperature == entry.temperature);
    CHECK(back.humidity == entry.humidity);
    CHECK(back.note == entry.note);
    REQUIRE(back.gun);
    CHECK(back.gun->air == entry.gun->air);
    CHECK(back.gun->needle_opening == entry.gun->needle_opening);
    CHECK_FALSE(back.gun->flow);
}

TEST_CASE("each version of a plan is stored once, with the checksum of its copy", "[plan][record]") {
    const std::string other = kPlan + "# a remark more\n";
    std::string text;
    for (const std::string& plan : {kPlan, kPlan, other, kPlan, other})
        text = append(text, note_entry("x"), plan);
    const JobLog job_log = read_log(text);
    CHECK(job_log.entries.size() == 5);
    REQUIRE(job_log.plans.size() == 2);
    CHECK(job_log.plans[0].text == kPlan);
    CHECK(job_log.plans[1].text == other);
    for (const production::PlanSnapshot& snapshot : job_log.plans)
        CHECK(sha256_hex(snapshot.text) == snapshot.sha256.value);
    CHECK(production::find_snapshot(job_log, sha256_hex(other))->text == other);
}

TEST_CASE("any plan text is stored byte for byte", "[plan][record]") {
    for (const std::string& plan : std::vector<std::string>{
             kPlan, "", "\n", "\n\nplan = 1\n\n", "no line end", "ends in '", "ends in ''", "has ''' in it\n",
             "has \"\"\" and ''' in it", "line ends\r\nof another\r\nsystem\r\n", "back\\slash \\n \\u0041\n",
             "a lone \r return", "tab\tand µ, 漢字\n", "\x01\x1F\x7F control", "\"", "\\", "\\\n  joined\n",
             "'''\n", "\"\"\"\"\"\"\n"}) {
        INFO(plan);
        const JobLog job_log = read_log("record = 1\n[[plans]]\nsha256 = \"" + sha256_hex(plan) +
                                        "\"\ntext = " + production::toml_text_block(plan) + "\n");
        REQUIRE(job_log.plans.size() == 1);
        CHECK(job_log.plans[0].text == plan);
    }
}

TEST_CASE("the copy of a preset plan is that plan, with its checksum", "[plan][record]") {
    const std::string path = test::source_path("presets/plans/dusk-fade.toml");
    const std::string text = read_file_bytes(path, kTextFileLimit_bytes).value();
    const std::string job_log = append("", note_entry("x"), text);
    CHECK(job_log.find(text) != std::string::npos);  // readable, unchanged
    const production::PlanSnapshot snapshot = read_log(job_log).plans.at(0);
    CHECK(snapshot.text == text);
    CHECK(snapshot.sha256.value == sha256_hex(text));
    Diagnostics diagnostics;
    const auto reread = plan::read_plan(std::make_shared<Source>("kept", snapshot.text), diagnostics);
    const auto before = plan::read_plan(std::make_shared<Source>("plan", text), diagnostics);
    REQUIRE((reread && before));
    CHECK(*reread == *before);
}

TEST_CASE("handwritten text in the job log stays", "[plan][record]") {
    std::string text = append("", note_entry("first"), kPlan);
    text += "# the lid leaked here\nhumidity = \"45 %\"   # hung by the door";  // no line end
    const std::string more = production::log_addition(text, read_log(text), note_entry("second"), kPlan);
    const JobLog job_log = read_log(text + more);
    REQUIRE(job_log.entries.size() == 2);
    CHECK(job_log.entries[0].humidity == Share{0.45});
    CHECK(job_log.entries[1].note == "second");
}

TEST_CASE("an empty job log has no entries, and a new one has its header", "[plan][record]") {
    CHECK(read_log("").entries.empty());
    CHECK(read_log(" \n\n").entries.empty());
    CHECK(append("", note_entry("x"), kPlan).starts_with("record = 1\n"));
    Diagnostics diagnostics;
    CHECK_FALSE(production::read_job_log(std::make_shared<Source>("a", kPlan), diagnostics));
}

TEST_CASE("dates are calendar dates in UTC", "[plan][record]") {
    CHECK(production::date_text(std::int64_t{0}) == "1970-01-01T00:00:00Z");
    CHECK(production::date_text(std::int64_t{1'000'000'000}) == "2001-09-09T01:46:40Z");  // well known
    CHECK(production::date_text(std::int64_t{951'782'400}) == "2000-02-29T00:00:00Z");
    CHECK(production::date_text("2026-03-01") == "2026-03-01T00:00:00Z");
    CHECK(production::date_text("2026-03-01 14:05") == "2026-03-01T14:05:00Z");
    CHECK(production::date_text("2026-03-01T14:05:30Z") == "2026-03-01T14:05:30Z");
    for (const std::string_view wrong : {"", "Z", "yesterday", "2026-02-29", "2026-13-01", "2026-03-01 24:00",
                                         "2026-03-01 14:60", "2026-3-1", "2026-03-01T14:05:00+01:00"}) {
        INFO(wrong);
        CHECK_FALSE(production::date_text(wrong));
        CHECK_FALSE(production::is_date(wrong));
    }
    CHECK(production::is_date("2024-02-29T23:59:59Z"));
}

TEST_CASE("the job log is next to its plan", "[plan][record]") {
    CHECK(production::job_log_path("jobs/tank.toml") == "jobs/tank.record.toml");
    CHECK(production::job_log_path("tank") == "tank.record.toml");
}
