// The job log written by the real program: twenty at once lose nothing, and after a kill at any moment it
// is complete.
#include "fadewright/production/job_log.h"

#include "fadewright/base/files.h"
#include "program.h"
#include "published_table.h"

#include <unistd.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <chrono>
#include <csignal>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <random>
#include <set>
#include <thread>

using namespace fadewright;
using Catch::Matchers::Contains;
using test::wait_for_program, test::start_program;
namespace fs = std::filesystem;

namespace {

constexpr int kAtOnce = 20, kKills = 100;

test::RunResult run_command(std::vector<std::string> arguments) {
    test::RunOptions run;
    run.arguments = std::move(arguments);
    return test::run_program(run);
}

production::JobLog record_at(const std::string& path) {
    Diagnostics diagnostics;
    const auto record =
        production::read_job_log(std::make_shared<Source>(path, test::file_text(path)), diagnostics);
    INFO(to_text(diagnostics));
    REQUIRE(record);
    return *record;
}

// A plan in a fresh folder, with long comments so that writing the job log takes some time.
std::string plan_in(const std::string& folder, std::size_t comment_lines = 0) {
    std::string text = test::file_text(test::source_path("presets/plans/dusk-fade.toml"));
    for (std::size_t i = 0; i < comment_lines; ++i)
        text += "# a long comment, line " + std::to_string(i) + "\n";
    test::write_file(folder + "/job.toml", text);
    return folder + "/job.toml";
}

std::vector<std::string> notes_of(const production::JobLog& record) {
    std::vector<std::string> notes;
    for (const production::LogEntry& entry : record.entries) notes.push_back(entry.note.value_or(""));
    return notes;
}

}  // namespace

TEST_CASE("twenty simultaneous entries are all kept", "[cli][record]") {
    const std::string folder = test::fresh_folder("record-at-once");
    const std::string plan = plan_in(folder);
    std::vector<pid_t> children;
    for (int i = 0; i < kAtOnce; ++i)
        children.push_back(start_program({"record", plan, "--note", "entry " + std::to_string(i)}));
    for (const pid_t child : children) CHECK(wait_for_program(child) == 0);
    const production::JobLog record = record_at(folder + "/job.record.toml");
    CHECK(record.entries.size() == kAtOnce);
    CHECK(record.plans.size() == 1);
    std::set<std::string> notes;
    for (const std::string& note : notes_of(record)) notes.insert(note);
    CHECK(notes.size() == kAtOnce);
    std::set<std::string> files;
    for (const auto& entry : fs::directory_iterator(folder)) files.insert(entry.path().filename().string());
    CHECK(files == std::set<std::string>{"job.record.toml", "job.toml"});
}

TEST_CASE("a job log killed at any moment is complete, with the old or the new entries", "[cli][record]") {
    using Clock = std::chrono::steady_clock;
    const unsigned seed = test::seed_or_default(20'260'301u);
    INFO("FW_SEED=" << seed);
    std::mt19937 random(seed);
    const std::string folder = test::fresh_folder("record-killed");
    const std::string plan = plan_in(folder, 4000), path = folder + "/job.record.toml";
    const Clock::time_point begin = Clock::now();
    REQUIRE(wait_for_program(start_program({"record", plan, "--note", "first"})) == 0);
    // The longest wait before a kill; it converges to one at which about half of the runs finish.
    double longest_s = std::chrono::duration<double>(Clock::now() - begin).count();
    std::vector<std::string> notes{"first"};
    int killed = 0, killed_while_writing = 0;
    for (int i = 0; i < kKills; ++i) {
        const std::string note = "kill " + std::to_string(i);
        const pid_t child = start_program({"record", plan, "--note", note});
        const double share = static_cast<double>(random()) / static_cast<double>(std::mt19937::max());
        std::this_thread::sleep_for(std::chrono::duration<double>(share * longest_s));
        ::kill(child, SIGKILL);
        const bool finished = wait_for_program(child) == 0;
        std::vector<std::string> now = notes_of(record_at(path));
        const bool grew = now.size() == notes.size() + 1 && now.back() == note;
        if (grew) now.pop_back();
        REQUIRE(now == notes);
        REQUIRE((grew || !finished));
        if (grew) notes.push_back(note);
        longest_s *= finished ? 0.95 : 1.05;
        killed += finished ? 0 : 1;
        killed_while_writing += !finished && (grew || fs::exists(path + ".part")) ? 1 : 0;
    }
    INFO(killed << " of " << kKills << " were killed, " << killed_while_writing << " while writing");
    CHECK(killed > kKills / 5);  // otherwise nothing was tested
    CHECK(killed < kKills);
    // One more entry succeeds, whatever files the last kill left.
    CHECK(wait_for_program(start_program({"record", plan, "--note", "last"})) == 0);
    CHECK(notes_of(record_at(path)).size() == notes.size() + 1);
    CHECK_FALSE(fs::exists(path + ".part"));
}

TEST_CASE("entries have the typed values, and the list shows the changes of the plan since",
          "[cli][record]") {
    const std::string folder = test::fresh_folder("record-list");
    const std::string plan = plan_in(folder), text = test::file_text(plan);
    CHECK(run_command({"record", plan, "--mix", "plum", "--weights",
                       "quinacridone-violet=12.3 g, carbon-black=0.6 g", "--weights", "carbon-black=0.5 g",
                       "--batch-numbers", "carbon-black=B1207", "--temperature", "22 degC", "--humidity",
                       "45 %", "--date", "2026-03-01 14:05"})
              .exit == 0);
    CHECK(run_command({"record", plan, "--coat", "mid colour", "--air", "1.2 bar", "--note", "a bit wet"})
              .exit == 0);
    const auto record = record_at(folder + "/job.record.toml");
    REQUIRE(record.entries.size() == 2);
    CHECK(record.entries[0].date.value == "2026-03-01T14:05:00Z");
    REQUIRE(record.entries[0].grams.size() == 2);
    CHECK(record.entries[0].grams[1].value.value == Approx(1.1));  // added in two steps
    CHECK(record.entries[1].gun->air == Bar{1.2});
    CHECK(production::is_date(record.entries[1].date.value));
    CHECK_THAT(run_command({"record", plan, "--list"}).out, !Contains("changed since"));

    std::string now = text;
    now.replace(now.find("carbon-black = 0.5"), 18, "carbon-black = 0.6");
    test::write_file(plan, now);
    const std::string list = run_command({"record", plan, "--list"}).out;
    CHECK_THAT(list,
               Contains("2026-03-01 14:05 UTC, plan " + sha256_hex(text).substr(0, 8) + ", changed since"));
    CHECK_THAT(list, Contains("  mix 'plum', carbon-black: 0.5 -> 0.6\n"));
    const auto json = nlohmann::json::parse(run_command({"record", plan, "--list", "--json"}).out);
    CHECK(json["plan_sha256"] == sha256_hex(now));
    CHECK(json["plans"][0]["sha256"] == sha256_hex(text));
    CHECK(json["plans"][0]["current"] == false);
    CHECK(json["entries"][0]["weights"]["quinacridone-violet"] == 12.3);
    CHECK(json["entries"][1]["gun"]["air_bar"] == 1.2);
}

TEST_CASE("a plan copy is identical byte for byte, with its hash", "[cli][record]") {
    const std::string folder = test::fresh_folder("record-copy");
    const std::string plan = plan_in(folder), text = test::file_text(plan);
    CHECK(run_command({"record", plan, "--note", "before"}).exit == 0);
    test::write_file(plan, text + "# another one\n");
    CHECK(run_command({"record", plan, "--note", "after"}).exit == 0);
    const std::string hash = sha256_hex(text);
    const test::RunResult back = run_command({"record", plan, "--show-plan", hash.substr(0, 10)});
    CHECK(back.exit == 0);
    CHECK(back.out == text);
    CHECK(sha256_hex(back.out) == hash);
    CHECK(run_command({"record", plan, "--show-plan", "xyz"}).exit == 2);
}

TEST_CASE("a wrong job log gives an error with its position and is not changed", "[cli][record]") {
    const std::string folder = test::fresh_folder("record-wrong");
    const std::string plan = plan_in(folder), path = folder + "/job.record.toml";
    for (const std::string& is_wrong :
         {std::string("record = 1\n[[entries]]\ndate = 7\n"), std::string("plan = 1\n"),
          std::string("record = 1\nentries = []\n[[[\n")}) {
        INFO(is_wrong);
        test::write_file(path, is_wrong);
        for (const std::string option : {"--list", "--note"}) {
            std::vector<std::string> typed{"record", plan, option};
            if (option == "--note") typed.emplace_back("x");
            const test::RunResult refused = run_command(typed);
            CHECK(refused.exit == 1);
            CHECK_THAT(refused.err, Contains("job.record.toml:"));
            CHECK(test::file_text(path) == is_wrong);
        }
    }
    // If the list was closed by hand, nothing can be appended, and nothing is.
    const std::string closed = "record = 1\nentries = []\n";
    test::write_file(path, closed);
    CHECK(run_command({"record", plan, "--note", "x"}).exit == 1);
    CHECK(test::file_text(path) == closed);
}

TEST_CASE("an error on the command line writes nothing", "[cli][record]") {
    const std::string folder = test::fresh_folder("record-slips");
    const std::string plan = plan_in(folder);
    const std::vector<std::pair<std::vector<std::string>, std::string>> mistakes{
        {{}, "nothing to record"},
        {{"--mix", "plumm"}, "did you mean 'plum'?"},
        {{"--coat", "mid color"}, "did you mean 'mid colour'?"},
        {{"--weights", "carbon-black=1 g"}, "weights or batch numbers without a mix"},
        {{"--mix", "plum", "--weights", "carbon-blak=1 g"}, "did you mean 'carbon-black'?"},
        {{"--mix", "plum", "--weights", "carbon-black=1"}, "has no unit"},
        {{"--mix", "plum", "--weights", "carbon-black=1,5 g"}, "cannot read '5 g'"},
        {{"--mix", "plum", "--weights", "carbon-black=-1 g"}, "weight must be positive"},
        {{"--film", "14 um"}, "without a coat"},
        {{"--coat", "mid colour", "--at", "1 mm,1 mm"}, "--at without a film"},
        {{"--coat", "mid colour", "--gun", "fan-gun-huge"}, "no gun is called"},
        {{"--note", "x", "--date", "yesterday"}, "is not a date"},
        {{"--note", "x", "--list"}, "cannot be combined"},
        {{"--repair", "5000 mm,0 mm"}, "is not on the panel"},
        {{"--note", "x", "--file", plan}, "would overwrite the plan"}};
    for (const auto& [typed, message] : mistakes) {
        std::vector<std::string> all{"record", plan};
        all.insert(all.end(), typed.begin(), typed.end());
        const test::RunResult mistake = run_command(all);
        INFO(mistake.err);
        CHECK(mistake.exit == 2);
        CHECK_THAT(mistake.err, Contains(message));
    }
    CHECK_FALSE(fs::exists(folder + "/job.record.toml"));
}

TEST_CASE("a repair is based on the recorded weights and readings", "[cli][record]") {
    const std::string folder = test::fresh_folder("record-repair");
    const std::string plan = plan_in(folder);
    const std::vector<std::string> ask{"record", plan, "--repair", "450 mm,480 mm", "--size", "40 mm"};
    std::vector<std::string> ask_json = ask;
    ask_json.emplace_back("--json");
    const auto planned = nlohmann::json::parse(run_command(ask_json).out);
    CHECK(planned["basis"] == "the plan; there is no job log");
    CHECK(planned["spray_a_card_first"] == true);
    CHECK(planned["coats"][0]["name"] == "apricot base");
    const double film = planned["coats"][0]["film_um"];

    CHECK(run_command({"record", plan, "--mix", "apricot", "--weights",
                       "pyrrole-orange=10 g, diarylide-yellow=12 g, titanium-white=90 g", "--date",
                       "2026-03-01"})
              .exit == 0);
    CHECK(run_command({"record", plan, "--coat", "apricot base", "--film", "20 um", "--at", "450 mm,480 mm"})
              .exit == 0);
    const test::RunResult message = run_command(ask);
    CHECK(message.exit == 0);
    CHECK_THAT(message.out, Contains("Spray a card first"));
    CHECK_THAT(message.out, Contains("as mixed on 2026-03-01"));
    CHECK_THAT(message.out, Contains("no reducer in the job log: as planned"));
    const auto recorded = nlohmann::json::parse(run_command(ask_json).out);
    CHECK(recorded["coats"][0]["film_um"] == Approx(20.0).margin(1e-6));
    CHECK(film != Approx(20.0));
    CHECK(recorded["coats"][0]["readings"] == 1);
    CHECK(recorded["mixes"][0]["mixed_on"] == "2026-03-01T00:00:00Z");
    // After an edit of the plan the workpiece is still the painted one.
    std::string now = test::file_text(plan);
    now.replace(now.find("width = \"900 mm\""), 16, "width = \"800 mm\"");
    test::write_file(plan, now);
    CHECK_THAT(run_command(ask).out, Contains("changed since"));
    CHECK(nlohmann::json::parse(run_command(ask_json).out)["coats"] == recorded["coats"]);
}
