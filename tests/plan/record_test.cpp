// The record of a job: what is added reads back, letter for letter, and nothing that stood there moves.
#include "fadewright/plan/record.h"

#include "fadewright/base/files.h"
#include "fadewright/plan/job.h"
#include "fadewright/plan/record_schema.h"
#include "published.h"

#include <catch2/catch.hpp>
#include <set>

using namespace fadewright;
using plan::RecordEntry;
using plan::RecordFile;

namespace {

const std::string kPlan =
    "plan = 1\n[panel]\nwidth = \"300 mm\"\nheight = \"200 mm\"\n[mixes.plum]\nparts = { quinacridone-violet "
    "= 6 "
    "}\n[[coats]]\nname = \"base\"\nmix = \"plum\"\ncover.film = \"20 um\"\n";

RecordFile read(const std::string& text) {
    Diagnostics diagnostics;
    const auto record = plan::read_record(std::make_shared<Source>("a.record.toml", text), diagnostics);
    INFO(to_text(diagnostics));
    REQUIRE(record);
    return *record;
}

RecordEntry noted(const std::string& note) {
    RecordEntry entry;
    entry.date.value = "2026-03-01T14:05:00Z";
    entry.note = note;
    return entry;
}

std::string with(const std::string& there, const RecordEntry& entry, const std::string& plan_text) {
    return there + plan::record_addition(there, read(there), entry, plan_text);
}

RecordEntry full_entry() {
    RecordEntry entry = noted("left half first; \"wet\" at the end\nsecond line");
    entry.mix = Placed<std::string>{"plum", {}};
    entry.poured = {{"quinacridone-violet", Grams{12.3}, {}}, {"titanium-white", Grams{1.1}, {}}};
    entry.bottles = {{"titanium-white", "B 1207/3", {}}};
    entry.coat = Placed<std::string>{"base", {}};
    entry.film = Micrometres{14};
    entry.at = plan::Point{Millimetres{150}, Millimetres{80.5}};
    entry.temperature = Celsius{21.5};
    entry.humidity = Share{0.45};
    entry.gun = plan::GunSet{};
    entry.gun->air = Bar{1.2};
    entry.gun->needle = Share{0.5};
    return entry;
}

}  // namespace

TEST_CASE("an entry with everything in it reads back as it was", "[plan][record]") {
    const RecordEntry entry = full_entry();
    const RecordFile record = read(with("", entry, kPlan));
    REQUIRE(record.entries.size() == 1);
    const RecordEntry& back = record.entries.front();
    CHECK(back.date == entry.date);
    CHECK(back.plan.value == sha256_hex(kPlan));
    CHECK(back.mix == entry.mix);
    CHECK(back.poured == entry.poured);
    CHECK(back.bottles == entry.bottles);
    CHECK(back.coat == entry.coat);
    CHECK(back.film == entry.film);
    CHECK(back.at == entry.at);
    CHECK(back.temperature == entry.temperature);
    CHECK(back.humidity == entry.humidity);
    CHECK(back.note == entry.note);
    REQUIRE(back.gun);
    CHECK(back.gun->air == entry.gun->air);
    CHECK(back.gun->needle == entry.gun->needle);
    CHECK_FALSE(back.gun->flow);
}

TEST_CASE("a plan is kept once for every text it had, and its hash is the hash of what is kept",
          "[plan][record]") {
    const std::string other = kPlan + "# a remark more\n";
    std::string text;
    for (const std::string& plan : {kPlan, kPlan, other, kPlan, other}) text = with(text, noted("x"), plan);
    const RecordFile record = read(text);
    CHECK(record.entries.size() == 5);
    REQUIRE(record.plans.size() == 2);
    CHECK(record.plans[0].text == kPlan);
    CHECK(record.plans[1].text == other);
    for (const plan::KeptPlan& kept : record.plans) CHECK(sha256_hex(kept.text) == kept.sha256.value);
    CHECK(plan::kept_plan(record, sha256_hex(other))->text == other);
}

TEST_CASE("any plan text is kept byte for byte", "[plan][record]") {
    for (const std::string& plan : std::vector<std::string>{
             kPlan, "", "\n", "\n\nplan = 1\n\n", "no line end", "ends in '", "ends in ''", "has ''' in it\n",
             "has \"\"\" and ''' in it", "line ends\r\nof another\r\nsystem\r\n", "back\\slash \\n \\u0041\n",
             "a lone \r return", "tab\tand µ, 漢字\n", "\x01\x1F\x7F control", "\"", "\\", "\\\n  joined\n",
             "'''\n", "\"\"\"\"\"\"\n"}) {
        INFO(plan);
        const RecordFile record = read("record = 1\n[[plans]]\nsha256 = \"" + sha256_hex(plan) +
                                       "\"\ntext = " + plan::text_block(plan) + "\n");
        REQUIRE(record.plans.size() == 1);
        CHECK(record.plans[0].text == plan);
    }
}

TEST_CASE("the snapshot of a preset plan is that plan, with its hash", "[plan][record]") {
    const std::string path = test::source_path("presets/plans/dusk-fade.toml");
    const std::string text = read_whole(path, kTextFileLimit_bytes).value();
    const std::string record = with("", noted("x"), text);
    CHECK(record.find(text) != std::string::npos);  // as it stands, for a reader's eye
    const plan::KeptPlan kept = read(record).plans.at(0);
    CHECK(kept.text == text);
    CHECK(kept.sha256.value == sha256_hex(text));
    Diagnostics diagnostics;
    const auto again = plan::read_plan(std::make_shared<Source>("kept", kept.text), diagnostics);
    const auto before = plan::read_plan(std::make_shared<Source>("plan", text), diagnostics);
    REQUIRE((again && before));
    CHECK(*again == *before);
}

TEST_CASE("what a hand wrote into the record stays where it is", "[plan][record]") {
    std::string text = with("", noted("first"), kPlan);
    text += "# the lid leaked here\nhumidity = \"45 %\"   # hung by the door";  // no line end
    const std::string more = plan::record_addition(text, read(text), noted("second"), kPlan);
    const RecordFile record = read(text + more);
    REQUIRE(record.entries.size() == 2);
    CHECK(record.entries[0].humidity == Share{0.45});
    CHECK(record.entries[1].note == "second");
}

TEST_CASE("a record with nothing in it has no entries, and a fresh one says what it is", "[plan][record]") {
    CHECK(read("").entries.empty());
    CHECK(read(" \n\n").entries.empty());
    CHECK(with("", noted("x"), kPlan).starts_with("record = 1\n"));
    Diagnostics diagnostics;
    CHECK_FALSE(plan::read_record(std::make_shared<Source>("a", kPlan), diagnostics));
}

TEST_CASE("dates are those of the calendar, in UTC", "[plan][record]") {
    CHECK(plan::date_text(std::int64_t{0}) == "1970-01-01T00:00:00Z");
    CHECK(plan::date_text(std::int64_t{1'000'000'000}) == "2001-09-09T01:46:40Z");  // well known
    CHECK(plan::date_text(std::int64_t{951'782'400}) == "2000-02-29T00:00:00Z");
    CHECK(plan::date_text("2026-03-01") == "2026-03-01T00:00:00Z");
    CHECK(plan::date_text("2026-03-01 14:05") == "2026-03-01T14:05:00Z");
    CHECK(plan::date_text("2026-03-01T14:05:30Z") == "2026-03-01T14:05:30Z");
    for (const std::string_view wrong : {"", "Z", "yesterday", "2026-02-29", "2026-13-01", "2026-03-01 24:00",
                                         "2026-03-01 14:60", "2026-3-1", "2026-03-01T14:05:00+01:00"}) {
        INFO(wrong);
        CHECK_FALSE(plan::date_text(wrong));
        CHECK_FALSE(plan::is_date_text(wrong));
    }
    CHECK(plan::is_date_text("2024-02-29T23:59:59Z"));
}

TEST_CASE("a record stands beside its plan", "[plan][record]") {
    CHECK(plan::record_path("jobs/tank.toml") == "jobs/tank.record.toml");
    CHECK(plan::record_path("tank") == "tank.record.toml");
}
