// Errors and warnings as text and as JSON: layout, sanitising, order and number, and the closest name.
#include "fadewright/text/diagnostic.h"

#include <catch2/catch.hpp>

#include <memory>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

namespace {

using namespace fadewright;

std::shared_ptr<const Source> source_of(const std::string& text, const std::string& name = "plan.toml") {
    return std::make_shared<const Source>(name, text);
}

// The span of a part of the source's text.
SourceSpan span_of(const std::shared_ptr<const Source>& source, const std::string& part) {
    const std::size_t begin = source->text().find(part);
    REQUIRE(begin != std::string::npos);
    return {source, begin, begin + part.size()};
}

std::string error_text(const std::string& text, const std::string& part, const std::string& message = "wrong",
                       const std::string& hint = "") {
    Diagnostics diagnostics;
    diagnostics.error("T001", span_of(source_of(text), part), message, hint);
    return to_text(diagnostics);
}

}  // namespace

TEST_CASE("an error has the position, the source line, a caret and a hint on a line of its own", "[text]") {
    CHECK(error_text("plan = 1\n  speed = \"400 mm\"\n", "mm", "'mm' is not a unit of this kind",
                     "write one of: mm/s, in/s") ==
          "plan.toml:2:16: error: 'mm' is not a unit of this kind [T001]\n"
          "  speed = \"400 mm\"\n"
          "               ^~\n"
          "hint: write one of: mm/s, in/s\n");
}

TEST_CASE("an error without a hint ends with the caret", "[text]") {
    CHECK(error_text("a = 1\n", "1") == "plan.toml:1:5: error: wrong [T001]\na = 1\n    ^\n");
}

TEST_CASE("an error without a source has neither position nor source line", "[text]") {
    Diagnostics diagnostics;
    diagnostics.error("C001", {}, "no colour given", "write --lab");
    CHECK(to_text(diagnostics) == "error: no colour given [C001]\nhint: write --lab\n");
}

TEST_CASE("a warning is called a warning and is not an error", "[text]") {
    Diagnostics diagnostics;
    diagnostics.warning("R026", span_of(source_of("a = 1\n"), "a"), "odd");
    CHECK(to_text(diagnostics) == "plan.toml:1:1: warning: odd [R026]\na = 1\n^\n");
    CHECK_FALSE(diagnostics.has_errors());
    CHECK_FALSE(diagnostics.empty());
}

TEST_CASE("columns and carets count characters, not bytes", "[text]") {
    CHECK(error_text("t = \"µµ\" # é\n", "# é") ==
          "plan.toml:1:10: error: wrong [T001]\nt = \"µµ\" # é\n         ^~~\n");
}

TEST_CASE("the caret of a span over several lines ends with its first line", "[text]") {
    CHECK(error_text("a = [\n1,\n2]\n", "[\n1,\n2]") == "plan.toml:1:5: error: wrong [T001]\na = [\n    ^\n");
    CHECK(error_text("ab = [ 1,\n2]\n", "[ 1,\n2]") ==
          "plan.toml:1:6: error: wrong [T001]\nab = [ 1,\n     ^~~~\n");
}

TEST_CASE("a very long line is left out", "[text]") {
    const std::string line = "a = \"" + std::string(200, 'x') + "\"\n";
    CHECK(error_text(line, "a") == "plan.toml:1:1: error: wrong [T001]\n");
}

TEST_CASE("control characters and broken UTF-8 never reach the terminal", "[text]") {
    CHECK(error_text("a\t= \x1b[31m\xff\x7f\n", "a", "bad \x1b]0;x\a \xc3", "no\x9b") ==
          "plan.toml:1:1: error: bad ?]0;x? ? [T001]\na = ?[31m??\n^\nhint: no?\n");
    // overlong, truncated and stray bytes one by one; whole characters stay
    CHECK(error_text("\xc0\xaf\xe2\x82µ€\n", "µ").find("\n????µ€\n") != std::string::npos);
    // the start of an escape sequence in 8 bits, overlong, a surrogate, beyond Unicode, a mark that turns the line
    const std::string damaged =
        "a\xC2\x9B"
        "2J \xE0\x80\x80 \xED\xA0\x80 \xF4\x90\x80\x80 \u202Eb";
    const std::string safe_text = "a?2J ??? ??? ???? ?b";
    CHECK(error_text(damaged + "\n", "a", damaged, damaged) ==
          "plan.toml:1:1: error: " + safe_text + " [T001]\n" + safe_text + "\n^\nhint: " + safe_text + "\n");
}

TEST_CASE("the name of a file is as harmless as its text", "[text]") {
    Diagnostics diagnostics;
    diagnostics.error("T001", {source_of("a\n", "a\x1b]0;x\a\u202E.toml"), 0, 1}, "wrong");
    CHECK(to_text(diagnostics).starts_with("a?]0;x??.toml:1:1: error: wrong [T001]\n"));
}

TEST_CASE("a very long message is cut between characters", "[text]") {
    std::string message;
    while (message.size() < 5000) message += "µ";
    const std::string text = error_text("a\n", "a", message);
    CHECK(text.size() < 2100);
    CHECK(text.find("µ ... [T001]\n") != std::string::npos);
    CHECK(text.find('?') == std::string::npos);
}

TEST_CASE("errors are sorted by file, position and rule, however they were reported", "[text]") {
    const auto a = source_of("one\ntwo\n", "a.toml"), b = source_of("one\n", "b.toml");
    Diagnostics diagnostics;
    diagnostics.error("T002", span_of(b, "one"), "fourth");
    diagnostics.error("T009", span_of(a, "two"), "third");
    diagnostics.error("T003", span_of(a, "two"), "second");
    diagnostics.warning("T008", span_of(a, "one"), "first");
    std::vector<std::string> messages;
    for (const Diagnostic& d : diagnostics.sorted_list()) messages.push_back(d.message);
    CHECK(messages == std::vector<std::string>{"first", "second", "third", "fourth"});
    CHECK(diagnostics.error_count() == 3);
}

TEST_CASE("at most kMaxShown errors are printed, with the number of the others", "[text]") {
    const auto source = source_of("a\n");
    Diagnostics diagnostics;
    for (std::size_t i = 0; i < Diagnostics::kMaxShown; ++i)
        diagnostics.error("T001", {source, 0, 1}, "wrong");
    CHECK(to_text(diagnostics).find("more;") == std::string::npos);
    for (int i = 0; i < 12; ++i) diagnostics.error("T001", {source, 0, 1}, "wrong");
    CHECK(to_text(diagnostics).ends_with("^\nand 12 more; fix these first\n"));
}

TEST_CASE("JSON has the same position, all errors, and no replaced characters", "[text]") {
    const auto source = source_of("plan = 1\nspeed = \"400 µ\"\n");
    Diagnostics diagnostics;
    diagnostics.error("T011", span_of(source, "µ"), "'µ' is not a unit", "write mm/s");
    diagnostics.warning("T001", {}, "no source");
    const nlohmann::json json = nlohmann::json::parse(to_json(diagnostics));
    REQUIRE(json.size() == 2);
    CHECK(json[0]["line"] == 0);
    CHECK(json[0]["severity"] == "warning");
    CHECK(json[1] == nlohmann::json{{"file", "plan.toml"},
                                    {"line", 2},
                                    {"column", 14},
                                    {"length", 1},
                                    {"rule", "T011"},
                                    {"severity", "error"},
                                    {"message", "'µ' is not a unit"},
                                    {"hint", "write mm/s"}});
}

TEST_CASE("the closest name is the one with the fewest typing errors", "[text]") {
    const std::vector<std::string> names{"distance", "speed", "overlap", "gun"};
    CHECK(closest_name("distanse", names) == "distance");  // another letter
    CHECK(closest_name("pseed", names) == "speed");        // two letters swapped
    CHECK(closest_name("ovrlap", names) == "overlap");     // a letter missing
    CHECK(closest_name("gunn", names) == "gun");           // a letter too many
    CHECK(closest_name("speed", names) == "speed");
    CHECK(closest_name("thickness", names).empty());
    CHECK(closest_name("mix", names).empty());
    CHECK(closest_name("", names).empty());
    CHECK(closest_name("speed", {}).empty());
}

TEST_CASE("adding a list leaves out what is there already", "[text]") {
    const auto source = std::make_shared<Source>("plan.toml", "one two");
    Diagnostics first, second;
    first.error("P001", {source, 0, 3}, "a", "hint");
    second.error("P001", {source, 0, 3}, "a", "hint");
    second.error("P001", {source, 4, 7}, "a", "hint");
    second.error("P001", {source, 4, 7}, "b", "hint");
    second.error("P001", {source, 4, 7}, "b", "hint");
    second.warning("P002", {source, 4, 7}, "b");
    first.add_all(second);
    first.add_all(second);
    CHECK(first.sorted_list().size() == 4);
    CHECK(first.error_count() == 3);
    first.add({"P001", DiagnosticSeverity::error, {source, 0, 3}, "a", "hint"});
    CHECK(first.error_count() == 4);
}
