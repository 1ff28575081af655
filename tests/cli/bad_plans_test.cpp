// Every rule has a wrong file in tests/plans/bad, and the messages about it are the accepted ones.
// The file's name begins with the rule: P006-coat-without-passes.toml; the accepted messages are in its
// .expect file.

#include "accepted.h"
#include "fadewright/app/commands.h"
#include "fadewright/calibration/gun_calibration.h"
#include "fadewright/calibration/paint_calibration.h"
#include "fadewright/plan/rules.h"
#include "fadewright/production/job_log.h"
#include "fadewright/text/diagnostic.h"
#include "published_table.h"
#include "run_command.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>
#include <regex>
#include <set>

namespace {

using namespace fadewright;
namespace fs = std::filesystem;

constexpr const char* kFolder = "tests/plans/bad/";

std::vector<std::string> bad_names() {  // without folder and ending, sorted
    std::vector<std::string> names;
    for (const auto& entry : fs::directory_iterator(test::source_path(kFolder)))
        if (entry.path().extension() == ".toml") names.push_back(entry.path().stem().string());
    std::sort(names.begin(), names.end());
    return names;
}

std::set<std::string> rule_ids() {
    std::set<std::string> ids;
    for (const Rule& rule : text_rules()) ids.emplace(rule.id);
    for (const Rule& rule : plan::plan_rules()) ids.emplace(rule.id);
    for (const Rule& rule : calibration::spray_out_card_rules()) ids.emplace(rule.id);
    for (const Rule& rule : calibration::spray_pattern_card_rules()) ids.emplace(rule.id);
    for (const Rule& rule : production::job_log_rules()) ids.emplace(rule.id);
    return ids;
}

bool shows_several(const std::string& name) { return name.starts_with("several-"); }
std::string rule_of(const std::string& name) { return name.substr(0, name.find('-')); }

}  // namespace

TEST_CASE("the messages about every wrong file are the accepted ones", "[cli][plans]") {
    const test::SourceTreeAsWorkingFolder is_reported;
    for (const std::string& name : bad_names()) {
        const std::string path = kFolder + name + ".toml";
        INFO(path);
        const app::Outcome outcome = test::run(app::check, {{app::plan_file(path)}, "", {}, false, false});
        CHECK(outcome.exit == app::Exit::data_error);
        CHECK(outcome.out.empty());
        CHECK(outcome.err == test::accepted_text(kFolder + name + ".expect", outcome.err));
    }
}

TEST_CASE("a wrong file reports only its own rule, with a position and a hint", "[cli][plans]") {
    const test::SourceTreeAsWorkingFolder is_reported;
    const std::regex headline(R"(\S+:\d+:\d+: error: .* \[([A-Z]\d{3})\])");
    for (const std::string& name : bad_names()) {
        const std::string path = kFolder + name + ".toml";
        INFO(path);
        const std::string err = test::run(app::check, {{app::plan_file(path)}, "", {}, false, false}).err;
        std::size_t errors = 0;
        for (std::sregex_iterator found(err.begin(), err.end(), headline), end; found != end; ++found) {
            ++errors;
            CHECK((shows_several(name) || (*found)[1] == rule_of(name)));
        }
        CHECK(errors >= (shows_several(name) ? 5u : 1u));
        std::size_t hints = 0;
        for (std::size_t at = 0; (at = err.find("\nhint: ", at)) != std::string::npos; ++at) ++hints;
        CHECK(hints == errors);
    }
}

TEST_CASE("every rule has a wrong file and every wrong file has a rule", "[cli][plans]") {
    const std::set<std::string> ids = rule_ids();
    std::set<std::string> output;
    for (const std::string& name : bad_names())
        if (!shows_several(name)) output.insert(rule_of(name));
    CHECK(output == ids);
}

TEST_CASE("no rule is listed twice and each has a title", "[cli][plans]") {
    CHECK(rule_ids().size() ==
          text_rules().size() + plan::plan_rules().size() + calibration::spray_out_card_rules().size() +
              calibration::spray_pattern_card_rules().size() + production::job_log_rules().size());
    for (const Rule& rule : text_rules()) CHECK_FALSE(rule.title.empty());
    for (const Rule& rule : plan::plan_rules()) CHECK_FALSE(rule.title.empty());
}

TEST_CASE("check prints the same errors as JSON", "[cli][plans]") {
    const test::SourceTreeAsWorkingFolder is_reported;
    for (const std::string& name : bad_names()) {
        const std::string path = kFolder + name + ".toml";
        INFO(path);
        const app::Outcome outcome = test::run(app::check, {{app::plan_file(path)}, "", {}, true, false});
        CHECK(outcome.exit == app::Exit::data_error);
        CHECK(outcome.err.empty());
        CHECK(outcome.out.starts_with("["));
        if (!shows_several(name))
            CHECK(outcome.out.find("\"rule\": \"" + rule_of(name) + "\"") != std::string::npos);
    }
}
