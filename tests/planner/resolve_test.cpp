// From the text of a plan to its job in one go, and all mistakes of all stages in one answer.
#include "fadewright/planner/resolve.h"

#include "fadewright/base/files.h"
#include "fadewright/plan/read_plan.h"
#include "preset_library.h"
#include "published_table.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <memory>
#include <set>
#include <sstream>
#include <string>
#include <vector>

using namespace fadewright;

namespace {

planner::ResolvedPlan resolve_text(const std::string& text, std::optional<UnitSystem> units = {}) {
    plan::Library library = test::preset_library();
    return planner::resolve(std::make_shared<Source>("plan.toml", text), library, units);
}

std::string file_text(const std::string& below) {
    return read_file_bytes(test::source_path(below), kTextFileLimit_bytes).value();
}

std::vector<std::string> rules_of(const planner::ResolvedPlan& resolved) {
    std::vector<std::string> rules;
    for (const Diagnostic& mistake : resolved.diagnostics.sorted_list()) rules.push_back(mistake.rule);
    return rules;
}

const std::string kPanel = "plan = 1\n[panel]\nwidth = \"400 mm\"\nheight = \"600 mm\"\n";
const std::string kFade =
    "[[coats]]\nname = \"fade\"\ngun = \"fan-gun-small\"\n[coats.fade]\nfrom = \"titanium-white\"\n"
    "to = \"quinacridone-violet\"\nfilm = \"15 um\"\n";
const std::string kUpright = "start = [\"200 mm\", \"150 mm\"]\nend = [\"200 mm\", \"450 mm\"]\n";

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);) lines.push_back(line);
    return lines;
}

std::string joined(const std::vector<std::string>& lines) {
    std::string text;
    for (const std::string& line : lines) text += line + "\n";
    return text;
}

}  // namespace

TEST_CASE("a plan with one mistake of each kind gets all of them, each once, in the order of the text",
          "[plan][resolve]") {
    const planner::ResolvedPlan resolved =
        resolve_text(file_text("tests/plans/bad/several-one-of-each-kind.toml"));
    CHECK_FALSE(resolved.plan);
    CHECK_FALSE(resolved.expanded);
    CHECK_FALSE(resolved.job);
    INFO(to_text(resolved.diagnostics));
    CHECK(rules_of(resolved) == std::vector<std::string>{"P004", "P020", "P021", "T020", "P005", "T011",
                                                         "P001", "T011", "P002", "P017", "P011", "P019",
                                                         "P003", "P022", "P012", "P009", "T022", "P023",
                                                         "P025", "P028", "P027", "P001", "P001", "T011"});
    std::set<std::string> messages;
    std::size_t last = 0;
    for (const Diagnostic& mistake : resolved.diagnostics.sorted_list()) {
        CHECK(mistake.span.begin >= last);
        last = mistake.span.begin;
        CHECK(messages.insert(std::to_string(last) + mistake.message).second);
    }
}

TEST_CASE("a field that cannot be read is the only mistake, whichever field it is", "[plan][resolve]") {
    const std::string file = GENERATE(
        as<std::string>{}, "tests/plans/good/every-kind-of-pass.toml", "tests/plans/good/every-shape.toml",
        "tests/plans/good/mixes-of-mixes.toml", "presets/plans/plain-panel.toml",
        "presets/plans/carved-sign.toml", "presets/plans/guitar-burst.toml");
    CAPTURE(file);
    plan::Library library = test::preset_library();
    const std::string name = test::source_path(file);  // drawings beside the plan are found
    const std::vector<std::string> lines = lines_of(file_text(file));
    REQUIRE(planner::resolve(std::make_shared<Source>(name, joined(lines)), library).job);
    std::size_t tried = 0;
    for (std::size_t i = 0; i < lines.size(); ++i) {
        const std::size_t equals = lines[i].find(" = ");
        if (equals == std::string::npos || lines[i].starts_with('#') || lines[i].starts_with("plan"))
            continue;
        std::vector<std::string> edited = lines;
        edited[i] = lines[i].substr(0, equals) + " = 2026-01-01";  // of no field's kind
        const planner::ResolvedPlan resolved =
            planner::resolve(std::make_shared<Source>(name, joined(edited)), library);
        CAPTURE(edited[i], to_text(resolved.diagnostics));
        if (rules_of(resolved).front() == "T001") continue;  // the rest of a value on several lines
        ++tried;
        CHECK_FALSE(resolved.plan);
        CHECK(resolved.diagnostics.sorted_list().size() == 1);
        CHECK(rules_of(resolved).front().starts_with("T0"));
    }
    CHECK(tried > 5);
}

TEST_CASE("a misspelt name is the only mistake, whichever name it is", "[plan][resolve]") {
    const std::string file =
        GENERATE(as<std::string>{}, "tests/plans/good/every-kind-of-pass.toml",
                 "tests/plans/good/every-shape.toml", "tests/plans/good/mixes-of-mixes.toml");
    CAPTURE(file);
    plan::Library library = test::preset_library();
    const std::string name = test::source_path(file);
    const std::vector<std::string> lines = lines_of(file_text(file));
    std::size_t tried = 0;
    for (std::size_t i = 0; i < lines.size(); ++i) {
        const std::size_t equals = lines[i].find(" = ");
        if (equals == std::string::npos || lines[i].starts_with('#') || lines[i].starts_with("plan"))
            continue;
        for (const std::string& wrong : {lines[i].substr(0, equals) + "x", std::string("zzzzzzzz")}) {
            std::vector<std::string> edited = lines;
            edited[i] = wrong + lines[i].substr(equals);
            const planner::ResolvedPlan resolved =
                planner::resolve(std::make_shared<Source>(name, joined(edited)), library);
            CAPTURE(edited[i], to_text(resolved.diagnostics));
            if (rules_of(resolved).front() == "T001") continue;
            ++tried;
            // A name that is close to none is also missed where it was needed.
            for (const std::string& rule : rules_of(resolved)) CHECK((rule == "T022" || rule == "T021"));
        }
    }
    CHECK(tried > 5);
}

TEST_CASE("a section under a misspelt heading hides no name that it may contain", "[plan][resolve]") {
    const std::string coat =
        "[[coats]]\nname = \"one\"\nmix = \"plum\"\nmasks = [\"star\"]\neven_coat.film = \"20 um\"\n";
    const std::string mask =
        ".star]\nshape = { corners = [[\"0 mm\", \"0 mm\"], [\"9 mm\", \"0 mm\"], [\"5 mm\", \"9 mm\"]] }\n";
    const std::string mix = ".plum]\nparts = { carbon-black = 1 }\n";
    CHECK(resolve_text(kPanel + "[mixes" + mix + "[masks" + mask + coat).job);
    CHECK(rules_of(resolve_text(kPanel + "[mixs" + mix + "[masks" + mask + coat)) ==
          std::vector<std::string>{"T022"});
    CHECK(rules_of(resolve_text(kPanel + "[mixes" + mix + "[maskes" + mask + coat)) ==
          std::vector<std::string>{"T022"});
    CHECK(rules_of(resolve_text("plan = 1\n[pannel]\nwidth = \"4 mm\"\n[mixes" + mix + "[masks" + mask +
                                coat)) == std::vector<std::string>{"T022"});
}

TEST_CASE("a wrong field hides no unknown name, no bad fade and no bad outline elsewhere",
          "[plan][resolve]") {
    const std::string wrong = "[booth]\ntemperature = \"21 mm\"\n";
    const std::string text = kPanel + wrong +
                             "[mixes.plum]\nparts = { carbon-blak = 1 }\nreduce = \"1 mm\"\n" +
                             "[masks.line]\nshape = { corners = [[\"0 mm\", \"0 mm\"], [\"9 mm\", \"0 mm\"], "
                             "[\"5 mm\", \"0 mm\"]] }\n" +
                             kFade;  // without a position
    CHECK(rules_of(resolve_text(text)) == std::vector<std::string>{"T011", "P001", "T011", "P020", "P027"});
}

TEST_CASE("an unknown mask of a fade is reported once, although the fade has several coats",
          "[plan][resolve]") {
    std::string text = kPanel + kFade + kUpright;
    text.insert(text.find("[coats.fade]"), "masks = [\"star\"]\n");
    CHECK(rules_of(resolve_text(text)) == std::vector<std::string>{"P022"});
}

TEST_CASE("a gun with mistakes in its file is reported once for every plan, however many coats use it",
          "[plan][resolve]") {
    plan::Library library = test::preset_library();
    library.add_file(plan::LibraryKind::guns, "worn",
                     std::make_shared<Source>("guns/worn.toml", "gun = 1\npattern = \"oval\"\n"));
    std::string coats;
    for (const char* name : {"one", "two"})
        coats += std::string("[[coats]]\nname = \"") + name +
                 "\"\nmix = \"carbon-black\"\ngun = \"worn\"\neven_coat.film = \"9 um\"\n";
    const auto source = std::make_shared<Source>("plan.toml", kPanel + coats);
    std::vector<std::string> first;
    for (int time = 0; time < 2; ++time) {
        const planner::ResolvedPlan resolved = planner::resolve(source, library);
        INFO(to_text(resolved.diagnostics));
        CHECK_FALSE(resolved.job);
        for (const Diagnostic& mistake : resolved.diagnostics.sorted_list())
            CHECK(mistake.span.source->name() == "guns/worn.toml");
        std::vector<std::string> rules = rules_of(resolved);
        REQUIRE_FALSE(rules.empty());
        if (time == 0) first = rules;
        CHECK(rules == first);
        CHECK(std::count(rules.begin(), rules.end(), "T023") == 1);
    }
}

TEST_CASE("after a line that is not TOML only the fields are checked", "[plan][resolve]") {
    const std::string text = kPanel + "[[coats]]\nname = \"one\nmix = \"no-such-mix\"\nflow = \"3 mm\"\n";
    for (const std::string& rule : rules_of(resolve_text(text))) CHECK(rule.starts_with("T0"));
    CHECK(rules_of(resolve_text("")) == std::vector<std::string>{"S008"});
}

TEST_CASE("a resolved plan has its source, its plan as written, its expanded coats and its job",
          "[plan][resolve]") {
    const std::string text =
        kPanel + "[[coats]]\nname = \"below\"\nmix = \"carbon-black\"\neven_coat.film = \"20 um\"\n" + kFade +
        kUpright + "[[coats]]\nname = \"clear\"\nmix = \"gloss-clear\"\n" + "even_coat.film = \"40 um\"\n";
    const planner::ResolvedPlan resolved = resolve_text(text);
    INFO(to_text(resolved.diagnostics));
    REQUIRE(resolved.job);
    CHECK(resolved.source->text() == text);
    CHECK(resolved.job->hash == sha256_hex(text));
    CHECK(resolved.plan->coats.size() == 3);
    CHECK(resolved.plan->coats[1].fade);
    REQUIRE(resolved.expanded->coats.size() == 4);
    CHECK(resolved.job->coats.size() == 4);
    for (const plan::Coat& coat : resolved.expanded->coats) CHECK_FALSE(coat.fade);
    const std::size_t first[] = {0, 1, 3}, last[] = {1, 3, 4}, coat_of[] = {0, 1, 1, 2};
    for (std::size_t i = 0; i < 3; ++i) {
        CHECK(resolved.expanded_coats(i).first == first[i]);
        CHECK(resolved.expanded_coats(i).last == last[i]);
    }
    for (std::size_t i = 0; i < 4; ++i) CHECK(resolved.plan_coat(i) == coat_of[i]);
}

TEST_CASE("a plan in memory gives the job of its text, with the hash of that text", "[plan][resolve]") {
    const std::string text = kPanel + kFade + kUpright;
    const planner::ResolvedPlan from_text = resolve_text(text);
    plan::Library library = test::preset_library();
    const planner::ResolvedPlan in_memory = planner::resolve(*from_text.plan, library);
    REQUIRE(in_memory.job);
    CHECK(in_memory.source == from_text.source);
    CHECK(in_memory.job->hash == sha256_hex(text));
    CHECK(*in_memory.expanded == *from_text.expanded);
    for (double y = 0; y <= 600; y += 50)
        CHECK(in_memory.job->coats[1].film_um(200, y) == from_text.job->coats[1].film_um(200, y));

    plan::Plan unwritten;
    unwritten.panel.width = unwritten.panel.height = Millimetres{100};
    const planner::ResolvedPlan resolved = planner::resolve(unwritten, library);
    REQUIRE(resolved.job);
    CHECK_FALSE(resolved.source);
    CHECK(resolved.job->hash.empty());
}

TEST_CASE("requested units are those of the job and the messages; the plan's own are kept",
          "[plan][resolve]") {
    const std::string narrow = "start = [\"200 mm\", \"290 mm\"]\nend = [\"200 mm\", \"310 mm\"]\n";
    const planner::ResolvedPlan us = resolve_text(kPanel + kFade + narrow, UnitSystem::us);
    REQUIRE(us.diagnostics.sorted_list().size() == 1);
    CHECK(us.diagnostics.sorted_list()[0].message.find(" in;") != std::string::npos);
    const planner::ResolvedPlan good = resolve_text(kPanel + kFade + kUpright, UnitSystem::us);
    REQUIRE(good.job);
    CHECK(good.job->units.system() == UnitSystem::us);
    CHECK(good.plan->units == UnitSystem::us);
    CHECK(good.written_units == UnitSystem::metric);
}
