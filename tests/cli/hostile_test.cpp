// Malicious or damaged input: always a clear error, never a crash, a long wait, or a lost or half-written
// picture.

#include "fadewright/app/commands.h"
#include "program.h"
#include "published_table.h"
#include "run_command.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <random>

namespace {

using namespace fadewright;
namespace fs = std::filesystem;

// Processor time, so that a busy machine does not fail the test. No source: the longest wait that is
// acceptable.
constexpr double kMaxTime_s = 5.0;
constexpr double kMaxMutationTime_s = 2.0;

const std::string kPanel = "plan = 1\n[panel]\nwidth = \"300 mm\"\nheight = \"200 mm\"\n";
const std::string kCoat = "[[coats]]\nname = \"base\"\nmix = \"carbon-black\"\neven_coat.film = \"20 um\"\n";
const std::string kSprayed = "[[coats]]\nname = \"base\"\nmix = \"carbon-black\"\ngun = \"airbrush-fine\"\n";

std::string repeat(const std::string& piece, std::size_t times) {
    std::string text;
    text.reserve(piece.size() * times);
    for (std::size_t i = 0; i < times; ++i) text += piece;
    return text;
}

std::string random_bytes(std::size_t count) {
    std::mt19937 random(7);
    std::string bytes(count, '\0');
    for (char& byte : bytes) byte = static_cast<char>(random() & 0xFFu);
    return bytes;
}

// Each mix uses both mixes below it: 2^levels paths, but only 2 * levels mixes.
std::string lattice(int levels, const std::string& bottom) {
    std::string text = kPanel;
    for (int i = 0; i < levels; ++i) {
        const std::string below = i + 1 < levels ? "left" + std::to_string(i + 1) : bottom;
        const std::string other = i + 1 < levels ? "right" + std::to_string(i + 1) : "titanium-white";
        const std::string parts = "parts = { " + below + " = 1, " + other + " = 2 }\n";
        text += "[mixes.left" + std::to_string(i) + "]\n" + parts;
        text += "[mixes.right" + std::to_string(i) + "]\n" + parts;
    }
    return text + "[[coats]]\nname = \"base\"\nmix = \"left0\"\neven_coat.film = \"20 um\"\n";
}

std::string numbered_names(int count) {
    std::string text;
    for (int i = 0; i < count; ++i) text += "k" + std::to_string(i) + " = 1\n";
    return text;
}

std::string with_crlf(const std::string& text) {
    std::string out;
    for (const char c : text) out += c == '\n' ? std::string("\r\n") : std::string(1, c);
    return out;
}

struct Hostile {
    std::string description, bytes, expected_error;  // expected_error: must be in the error stream
};

std::vector<Hostile> broken_files() {
    const std::string fine = kPanel + kCoat;
    return {{"an empty file", "", "this file is empty"},
            {"blanks alone", repeat(" \n", 1000), "this file is empty"},
            {"50 MB of text", repeat("# a long comment, again\n", 2'300'000), "limit"},
            {"random bytes", random_bytes(300'000), "not a text file"},
            {"a zero byte in the middle", fine + std::string(1, '\0') + fine, "not a text file"},
            {"UTF-16", std::string("\xFF\xFEp\0l\0a\0n\0", 10), "not a text file"},
            {"bytes that are not UTF-8", fine + "# caf\xE9\n", "not UTF-8"},
            {"an overlong UTF-8 form", fine + "title = \"\xC0\xAF\"\n", "not UTF-8"},
            {"colours for the terminal", fine + "title = \"\x1B[31m\"\n", "[T001]"},
            {"deeply nested lists", fine + "x = " + repeat("[", 100'000) + repeat("]", 100'000), "too deep"},
            {"lists never closed", fine + "x = " + repeat("[", 100'000), "too deep"},
            {"deeply nested tables", fine + "x = " + repeat("{a=", 100'000), "too deep"},
            {"a name of a million dots", fine + "a" + repeat(".a", 1'000'000) + " = 1\n", "too deep"},
            {"a heading of a million dots", fine + "[a" + repeat(".a", 1'000'000) + "]\n", "too deep"},
            {"one line of 400 000 values", fine + "x = [\"µ\"" + repeat(",1", 400'000) + "]\n", "[T022]"},
            {"a name of a million letters", fine + repeat("k", 1'000'000) + " = 1\n", "[T022]"},
            {"a hundred thousand syntax errors", fine + repeat("x = = 1\n", 100'000), "[T001]"},
            {"fifty thousand unknown names", fine + numbered_names(50'000), "more; fix these first"},
            {"a hundred thousand coats", kPanel + repeat("[[coats]]\n", 100'000), "100000 entries"}};
}

std::vector<Hostile> nonsense_plans() {
    const auto panel = [](const std::string& width, const std::string& height) {
        return "plan = 1\n[panel]\nwidth = " + width + "\nheight = " + height + "\n" + kCoat;
    };
    const std::string sweep =
        "[[coats.sweeps]]\nfrom = [\"-2 m\", \"-2 m\"]\nto = [\"12 m\", \"12 m\"]\noverlap "
        "= \"95 %\"\ndistance = \"5 mm\"\ncross = true\nrepeats = 50\n";
    return {{"a wrong unit", panel("\"300 bar\"", "\"200 mm\""), "'bar' is not a unit"},
            {"not a number", panel("nan", "\"200 mm\""), "not a number"},
            {"not a number, in quotes", panel("\"nan mm\"", "\"200 mm\""), "[T016]"},
            {"an infinite panel", panel("inf", "\"inf mm\""), "[T016]"},
            {"a number beyond all numbers", panel("\"1e999 mm\"", "\"200 mm\""), "[T016]"},
            {"a negative panel", panel("\"-300 mm\"", "\"200 mm\""), "too small"},
            {"a panel without size", panel("\"0 mm\"", "\"0 mm\""), "too small"},
            {"a panel a kilometre wide", panel("\"1000000 mm\"", "\"1000000 mm\""), "too large"},
            {"a whole number too large for any", panel("99999999999999999999", "\"1 m\""), "[T001]"},
            {"paints nobody has", kPanel + "[mixes.a]\nparts = { moonlight = 1, dew = 2 }\n", "'moonlight'"},
            {"mixes of each other", kPanel + "[mixes.a]\nparts = { b = 1 }\n[mixes.b]\nparts = { a = 1 }\n",
             "contains itself"},
            {"a deep lattice of mixes over a paint nobody has", lattice(48, "moonlight"), "'moonlight'"},
            {"sweeps without end", kPanel + kSprayed + repeat(sweep, 200), "more than 20000 passes"},
            {"a title that is a terminal command", kPanel + "ground = \"\\u001B]0;x\\u0007\"\n", "?]0;x?"}};
}

std::vector<std::string> entries(const std::string& folder) {
    std::vector<std::string> names;
    for (const auto& entry : fs::directory_iterator(folder))
        names.push_back(entry.path().filename().string());
    std::sort(names.begin(), names.end());
    return names;
}

test::RunResult run_command(std::vector<std::string> arguments) {
    test::RunOptions run;
    run.arguments = std::move(arguments);
    run.limit = std::chrono::seconds(60);
    return test::run_program(run);
}

void check_refused(const test::RunResult& ran, const std::string& expected_error) {
    CHECK(ran.in_time);
    CHECK(ran.seconds < kMaxTime_s);
    CHECK((ran.exit == 1 || ran.exit == 3));
    CHECK(ran.out.empty());
    INFO(ran.err.substr(0, 2000));
    CHECK(ran.err.find(expected_error) != std::string::npos);
    CHECK(ran.err.find('\x1B') == std::string::npos);
    CHECK(ran.err.size() < 100'000);
}

// Checks the file, then renders it to a file that already exists.
void check_hostile(const Hostile& hostile, const std::string& scratch) {
    INFO(hostile.description);
    const std::string folder = test::fresh_folder(scratch);
    const std::string plan = folder + "/plan.toml", picture = folder + "/old.png";
    test::write_file(plan, hostile.bytes);
    test::write_file(picture, "the picture from yesterday");
    check_refused(run_command({"check", plan}), hostile.expected_error);
    check_refused(run_command({"preview", plan, "-o", picture, "--size", "16"}), hostile.expected_error);
    CHECK(test::file_text(picture) == "the picture from yesterday");
    CHECK(entries(folder) == std::vector<std::string>{"old.png", "plan.toml"});
}

std::string mutate(std::string text, std::mt19937& random) {
    const auto below = [&](std::size_t end) { return end == 0 ? 0 : random() % end; };
    for (std::size_t changes = 1 + below(4); changes > 0 && !text.empty(); --changes) {
        const std::size_t at = below(text.size()), length = 1 + below(40);
        switch (below(4)) {
            case 0:
                text[at] = static_cast<char>(static_cast<unsigned char>(text[at]) ^ (1u << below(8)));
                break;
            case 1:
                text.erase(at, length);
                break;
            case 2:
                text.insert(below(text.size()), text.substr(at, length));
                break;
            default:
                text.insert(at, 1, static_cast<char>(random() & 0xFFu));
        }
    }
    return text;
}

}  // namespace

TEST_CASE("a broken file gives a clear error and overwrites no picture", "[cli][hostile]") {
    for (const Hostile& hostile : broken_files()) check_hostile(hostile, "broken");
}

TEST_CASE("a nonsensical plan gives a clear error and overwrites no picture", "[cli][hostile]") {
    for (const Hostile& hostile : nonsense_plans()) check_hostile(hostile, "nonsense");
}

TEST_CASE("a folder or a missing file is not a plan", "[cli][hostile]") {
    const std::string folder = test::fresh_folder("no-plan");
    const std::string picture = folder + "/a.png";
    for (const std::string& plan : {folder, folder + "/none.toml"}) {
        INFO(plan);
        check_refused(run_command({"check", plan}), plan);
        check_refused(run_command({"preview", plan, "-o", picture}), plan);
    }
    CHECK(entries(folder).empty());
}

TEST_CASE("a picture that cannot be written leaves no files", "[cli][hostile]") {
    const std::string folder = test::fresh_folder("unwritable");
    const std::string plan = test::source_path("presets/plans/dusk-fade.toml");
    const auto to = [&](const std::string& out) {
        return run_command({"preview", plan, "--size", "16", "-o", out});
    };
    check_refused(to(folder + "/none/a.png"), "cannot write " + folder + "/none/a.png");
    check_refused(to(folder), "it is a folder");
    CHECK(entries(folder).empty());
    test::write_file(folder + "/file", "x");
    check_refused(to(folder + "/file/a.png"), "cannot write " + folder + "/file/a.png");
    CHECK(entries(folder) == std::vector<std::string>{"file"});
}

TEST_CASE("a new picture replaces the old one and leaves no other files", "[cli][hostile]") {
    const std::string folder = test::fresh_folder("new-picture");
    test::write_file(folder + "/a.png", "the picture from yesterday");
    const std::string plan = test::source_path("presets/plans/dusk-fade.toml");
    CHECK(run_command({"preview", plan, "--size", "16", "-o", folder + "/a.png"}).exit == 0);
    CHECK(test::file_text(folder + "/a.png").starts_with("\x89PNG"));
    CHECK(entries(folder) == std::vector<std::string>{"a.png"});
}

TEST_CASE("writing to a device does not replace it", "[cli][hostile]") {
    const std::string plan = test::source_path("presets/plans/dusk-fade.toml");
    CHECK(run_command({"preview", plan, "--size", "16", "-o", "/dev/null"}).exit == 0);
    CHECK(fs::is_character_file("/dev/null"));
}

TEST_CASE("names in a plan cannot control a terminal, but reach files unchanged", "[cli][hostile]") {
    const std::string folder = test::fresh_folder("terminal"), path = folder + "/plan.toml";
    test::write_file(path, kPanel + "[[coats]]\nname = \"a\\u202E\\u001b[2J\\u009bb\"\n" +
                               "mix = \"carbon-black\"\neven_coat.film = \"20 um\"\n");
    const std::vector<std::string> arguments{"section", path, "--from", "10mm,10mm", "--to", "200mm,10mm"};
    CHECK(run_command(arguments).out.find("a\u202E\x1b[2J\xC2\x9B"
                                          "b") != std::string::npos);
    std::string command = FW_PROGRAM;
    for (const std::string& argument : arguments) command += " " + argument;
    // `script` is in every Debian system; it runs the command on a terminal and records what that gets.
    REQUIRE(std::system(
                ("script -qec '" + command + "' " + folder + "/shown </dev/null >/dev/null").c_str()) == 0);
    const std::string shown = test::file_text(folder + "/shown");
    CHECK(shown.find("\na??[2J?b ") != std::string::npos);
    for (const char* obeyed : {"\x1b", "\u202E", "\xC2\x9B"}) CHECK(shown.find(obeyed) == std::string::npos);
}

TEST_CASE("unusual but valid files are read correctly", "[cli][hostile]") {
    const std::string preset = test::file_text(test::source_path("presets/plans/dusk-fade.toml"));
    const std::vector<std::pair<std::string, std::string>> valid_files{
        {"line ends of another system", with_crlf(preset)},
        {"a byte order mark", "\xEF\xBB\xBF" + preset},
        {"no line end at the end", preset.substr(0, preset.find_last_not_of('\n') + 1)},
        {"tabs and blanks", "\t \n" + preset + "\n\t\n"},
        {"a deep lattice of mixes", lattice(48, "carbon-black")}};
    const std::string path = test::fresh_folder("honest") + "/plan.toml";
    for (const auto& [description, bytes] : valid_files) {
        INFO(description);
        test::write_file(path, bytes);
        const test::RunResult checked = run_command({"check", path});
        CHECK(checked.err == "");
        CHECK(checked.exit == 0);
        CHECK(checked.seconds < kMaxTime_s);
    }
}

TEST_CASE("an error after a byte order mark or on a long line has the right position", "[cli][hostile]") {
    const std::string path = test::fresh_folder("places") + "/plan.toml";
    test::write_file(path, "\xEF\xBB\xBFplan = 2\n" + kPanel.substr(9));
    CHECK(run_command({"check", path}).err.find("plan.toml:1:8: error: plan is 2") != std::string::npos);
    const std::string blanks = repeat(" ", 600), dots = repeat("µ", 600);
    test::write_file(path,
                     kPanel + "title = \"" + dots + "\"\n" + kCoat + "laydown = " + blanks + "\"dry\"\n");
    CHECK(run_command({"check", path}).err.find("plan.toml:10:611: error: 'dry'") != std::string::npos);
    test::write_file(path, kPanel + "[mixes.a]\nparts = { \"" + dots + "\" = 1 }\n");
    CHECK(run_command({"check", path}).err.find("plan.toml:6:11: error: no mix or paint") !=
          std::string::npos);
    test::write_file(path, kPanel + "[mixes.a]\nparts = { \"" + dots + "\" = 1, dew = -1 }\n");
    CHECK(run_command({"check", path}).err.find("plan.toml:6:625: error: parts is -1") != std::string::npos);
}

TEST_CASE("no mutation of a plan crashes or delays the check", "[cli][hostile]") {
    const char* set = std::getenv("FW_SEED");
    const unsigned seed = set ? static_cast<unsigned>(std::strtoul(set, nullptr, 10)) : 20'260'101u;
    std::mt19937 random(seed);
    const std::string preset = test::file_text(test::source_path("presets/plans/dusk-fade.toml"));
    const std::string path = test::fresh_folder("mutations") + "/mutation.toml";
    int refused = 0;
    for (int i = 0; i < 300; ++i) {
        test::write_file(path, mutate(preset, random));
        INFO("FW_SEED=" << seed << ", mutation " << i << ", kept in " << path);
        const std::clock_t begin = std::clock();
        const app::Outcome outcome = test::run(app::check, {{app::plan_file(path)}, "", {}, false, false});
        const double seconds = static_cast<double>(std::clock() - begin) / CLOCKS_PER_SEC;
        const bool fine = outcome.exit == app::Exit::ok;
        REQUIRE((fine || outcome.exit == app::Exit::data_error));
        REQUIRE(outcome.err.empty() == fine);
        REQUIRE(seconds < kMaxMutationTime_s);
        refused += fine ? 0 : 1;
    }
    CHECK(refused > 100);  // else the mutations are too tame to show anything
}
