// Edits of a TOML text, checked by what toml++ reads from the result and by the lines that must stay.
#include "fadewright/text/edit.h"

#include "fadewright/text/tree.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <sstream>
#include <string>
#include <vector>

using namespace fadewright;

namespace {

const std::string kPlan = R"(# A sign for the bakery.
plan = 1
title = "Bakery sign"   # working title

[panel]
width = "900 mm"

# --- mixes ---

# The dark end.
[mixes.plum]
parts = { violet = 6, black = 0.5 }  # by eye
reduce = "10 %"

[mixes.middle]
parts = { plum = 1, apricot = 1 }
extend = 2

# --- coats ---

[[coats]]
name = "base"
even_coat.film = "20 um"

# The middle reaches less far each time.
[[coats]]
name = "middle"
mix = "middle"
[[coats.passes]]
path = [
  ["0 mm", "5 mm"],   # from the left
  ["90 mm", "5 mm"],
]
[[coats.passes]]
path = [["90 mm", "9 mm"], ["0 mm", "9 mm"]]
repeats = 2

[[coats]]
name = "clear"
)";

Node read(const std::string& text) {
    Diagnostics diagnostics;
    const auto tree = read_toml(std::make_shared<const Source>("edited", text), diagnostics);
    INFO(text);
    REQUIRE(tree);
    REQUIRE(tree->complete);
    return tree->root;
}

std::string text_of(const Node& node) {
    if (node.kind == Node::Kind::text) return node.text;
    if (node.kind == Node::Kind::integer) return std::to_string(node.integer);
    if (node.kind == Node::Kind::number) return std::to_string(node.number);
    return std::string(kind_label(node.kind));
}

const Node& at(const Node& root, const std::vector<std::string>& path) {
    const Node* node = &root;
    for (const std::string& key : path) {
        node = node->kind == Node::Kind::list ? &node->items.at(std::stoul(key)) : node->find(key);
        REQUIRE(node);
    }
    return *node;
}

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);) lines.push_back(line);
    return lines;
}

// Lines of the first text that are missing in the second.
std::vector<std::string> missing_lines(const std::string& before, const std::string& after) {
    std::vector<std::string> lines_after = lines_of(after), erased;
    for (const std::string& line : lines_of(before)) {
        const auto found = std::find(lines_after.begin(), lines_after.end(), line);
        if (found == lines_after.end())
            erased.push_back(line);
        else
            lines_after.erase(found);
    }
    return erased;
}

}  // namespace

TEST_CASE("a value is replaced in its line and its comment stays", "[text][edit]") {
    const std::string text = set_value(kPlan, "title", "\"Corner bakery\"").value();
    CHECK(text.find("title = \"Corner bakery\"   # working title\n") != std::string::npos);
    CHECK(missing_lines(kPlan, text) ==
          std::vector<std::string>{"title = \"Bakery sign\"   # working title"});
    const std::string parts = set_value(kPlan, "mixes.plum.parts.black", "0.75").value();
    CHECK(parts.find("parts = { violet = 6, black = 0.75 }  # by eye\n") != std::string::npos);
    const std::string film = set_value(kPlan, "coats.0.even_coat.film", "\"1 mil\"").value();
    CHECK(text_of(at(read(film), {"coats", "0", "even_coat", "film"})) == "1 mil");
    const std::string point = set_value(kPlan, "coats.1.passes.0.path.1", "[\"80 mm\", \"7 mm\"]").value();
    CHECK(text_of(at(read(point), {"coats", "1", "passes", "0", "path", "1", "0"})) == "80 mm");
    CHECK(point.find("# from the left") != std::string::npos);
}

TEST_CASE("setting every value to itself changes nothing", "[text][edit]") {
    for (const char* path : {"plan", "title", "panel.width", "mixes.plum.parts", "mixes.plum.parts.violet",
                             "mixes.middle.extend", "coats.0.even_coat.film", "coats.1.passes.1.repeats"}) {
        const Node root = read(kPlan);
        const Node* node = &root;
        std::istringstream keys(path);
        for (std::string key; std::getline(keys, key, '.');)
            node = node->kind == Node::Kind::list ? &node->items.at(std::stoul(key)) : node->find(key);
        const std::string value_text = kPlan.substr(node->span.begin, node->span.end - node->span.begin);
        CAPTURE(path, value_text);
        CHECK(set_value(kPlan, path, value_text).value() == kPlan);
    }
}

TEST_CASE("a new value goes after the last one of its section", "[text][edit]") {
    const std::string reduced = set_value(kPlan, "mixes.middle.reduce", "\"12 %\"").value();
    CHECK(reduced.find("extend = 2\nreduce = \"12 %\"\n\n# --- coats") != std::string::npos);
    const std::string gun = set_value(kPlan, "coats.1.gun", "\"fan\"").value();
    CHECK(gun.find("mix = \"middle\"\ngun = \"fan\"\n[[coats.passes]]") != std::string::npos);
    const std::string last = set_value(kPlan, "coats.2.mix", "\"plum\"").value();
    CHECK(text_of(at(read(last), {"coats", "2", "mix"})) == "plum");
    const std::string in_braces = set_value(kPlan, "mixes.plum.parts.white", "1").value();
    CHECK(in_braces.find("{ violet = 6, black = 0.5, white = 1 }  # by eye") != std::string::npos);
    for (const std::string& text : {reduced, gun, last}) CHECK(missing_lines(kPlan, text).empty());
}

TEST_CASE("a value of a missing section is written with a dotted key in the nearest section",
          "[text][edit]") {
    const std::string viewed = set_value(kPlan, "view.light", "\"lamp\"").value();
    CHECK(text_of(at(read(viewed), {"view", "light"})) == "lamp");
    CHECK(viewed.find("# working title\nview.light = \"lamp\"\n") != std::string::npos);
    const std::string again = set_value(viewed, "view.angle", "\"15 deg\"").value();
    CHECK(again.find("view.light = \"lamp\"\nview.angle = \"15 deg\"\n") != std::string::npos);
    const std::string even_coat = set_value(kPlan, "coats.2.even_coat.film", "\"40 um\"").value();
    CHECK(text_of(at(read(even_coat), {"coats", "2", "even_coat", "film"})) == "40 um");
    const std::string empty = set_value("", "plan", "1").value();
    CHECK(empty == "plan = 1\n");
}

TEST_CASE("deleting an entry leaves the others and their comments", "[text][edit]") {
    const std::string line = erase_entry(kPlan, "mixes.plum.reduce").value();
    CHECK(missing_lines(kPlan, line) == std::vector<std::string>{"reduce = \"10 %\""});
    const std::string part = erase_entry(kPlan, "mixes.plum.parts.violet").value();
    CHECK(part.find("parts = { black = 0.5 }  # by eye") != std::string::npos);
    const std::string last_part = erase_entry(kPlan, "mixes.middle.parts.apricot").value();
    CHECK(at(read(last_part), {"mixes", "middle", "parts"}).entries.size() == 1);
    const std::string even_coat = erase_entry(kPlan, "coats.0.even_coat").value();
    CHECK(missing_lines(kPlan, even_coat) == std::vector<std::string>{"even_coat.film = \"20 um\""});
    const std::string pass = erase_entry(kPlan, "coats.1.passes.0").value();
    CHECK(at(read(pass), {"coats", "1", "passes"}).items.size() == 1);
    CHECK(text_of(at(read(pass), {"coats", "1", "passes", "0", "repeats"})) == "2");
    const std::string coat = erase_entry(kPlan, "coats.1").value();
    CHECK(at(read(coat), {"coats"}).items.size() == 2);
    CHECK(coat.find("reaches less far") == std::string::npos);  // its own comment is deleted too
    CHECK(coat.find("# --- coats ---") != std::string::npos);
    const std::string mix = erase_entry(kPlan, "mixes.middle").value();
    CHECK(mix.find("# --- coats ---") != std::string::npos);
    CHECK(at(read(mix), {"mixes"}).entries.size() == 1);
}

TEST_CASE("a coat is moved with its passes and comments", "[text][edit]") {
    const auto names = [](const std::string& text) {
        std::vector<std::string> found;
        const Node root = read(text);
        for (const Node& coat : at(root, {"coats"}).items) found.push_back(coat.find("name")->text);
        return found;
    };
    using Names = std::vector<std::string>;
    const std::string up = move_item(kPlan, "coats.1", "coats.0").value();
    CHECK(names(up) == Names{"middle", "base", "clear"});
    CHECK(at(read(up), {"coats", "0", "passes"}).items.size() == 2);
    CHECK(up.find("# The middle reaches less far each time.\n[[coats]]\nname = \"middle\"") !=
          std::string::npos);
    CHECK(names(move_item(kPlan, "coats.0", "end").value()) == Names{"middle", "clear", "base"});
    CHECK(names(move_item(kPlan, "coats.2", "coats.0").value()) == Names{"clear", "base", "middle"});
    CHECK(names(move_item(kPlan, "coats.0", "coats.2").value()) == Names{"middle", "base", "clear"});
    for (int from = 0; from < 3; ++from)
        for (int to = 0; to < 3; ++to) {
            const std::string text =
                move_item(kPlan, "coats." + std::to_string(from), "coats." + std::to_string(to)).value();
            CAPTURE(from, to);
            CHECK(missing_lines(kPlan, text).empty());
            CHECK(names(text).size() == 3);
        }
    CHECK(move_item(kPlan, "coats.1", "coats.1").value() == kPlan);
    CHECK(move_item(kPlan, "coats.1", "coats.2").value() == kPlan);
    CHECK_FALSE(move_item(kPlan, "mixes.plum", "mixes.middle"));
    CHECK_FALSE(move_item(kPlan, "coats.1", "coats.9"));
}

TEST_CASE("sections are copied, added and renamed", "[text][edit]") {
    const std::string twice = copy_section(kPlan, "coats.1").value();
    CHECK(at(read(twice), {"coats"}).items.size() == 4);
    CHECK(at(read(twice), {"coats", "2", "passes"}).items.size() == 2);
    CHECK(missing_lines(kPlan, twice).empty());
    const std::string pale = copy_section(kPlan, "mixes.plum", "pale").value();
    CHECK(text_of(at(read(pale), {"mixes", "pale", "reduce"})) == "10 %");
    CHECK(at(read(pale), {"mixes"}).entries.size() == 3);
    const std::string coat = append_item(kPlan, "coats", "name = \"haze\"\n").value();
    CHECK(text_of(at(read(coat), {"coats", "3", "name"})) == "haze");
    const std::string pass = append_item(kPlan, "coats.1.passes", "repeats = 7\n").value();
    CHECK(text_of(at(read(pass), {"coats", "1", "passes", "2", "repeats"})) == "7");
    const std::string first = append_item(kPlan, "coats.0.passes", "repeats = 7\n").value();
    CHECK(text_of(at(read(first), {"coats", "0", "passes", "0", "repeats"})) == "7");
    CHECK(text_of(at(read(append_item("plan = 1\n", "coats", "name = \"a\"\n").value()),
                     {"coats", "0", "name"})) == "a");
    const std::string mix = add_section(kPlan, "mixes.haze", "parts = { pearl = 1 }\n").value();
    CHECK(at(read(mix), {"mixes"}).entries.size() == 3);
    CHECK(mix.find("[mixes.haze]") < mix.find("[[coats]]"));
    const std::string bridge = rename_key(kPlan, "mixes.middle", "bridge").value();
    CHECK(missing_lines(kPlan, bridge) == std::vector<std::string>{"[mixes.middle]"});
    CHECK(at(read(bridge), {"mixes", "bridge", "parts"}).entries.size() == 2);
    const std::string path_text = rename_key(kPlan, "mixes.middle", "the bridge").value();
    CHECK(text_of(at(read(path_text), {"mixes", "the bridge", "extend"})) == "2");
    CHECK(set_value(path_text, "mixes.\"the bridge\".extend", "3").ok());
    const std::string part = rename_key(kPlan, "mixes.middle.parts.plum", "violet").value();
    CHECK(part.find("parts = { violet = 1,") != std::string::npos);
}

TEST_CASE("an edit that would break the text is refused", "[text][edit]") {
    CHECK_FALSE(set_value(kPlan, "mixes.middle.extend", "2 parts"));
    CHECK_FALSE(set_value(kPlan, "title", "\"open"));
    CHECK_FALSE(set_value(kPlan, "title", "\"a\"\nbroken"));
    CHECK_FALSE(set_value(kPlan, "coats.7.name", "\"x\""));
    CHECK_FALSE(set_value(kPlan, "panel", "3"));
    CHECK_FALSE(set_value(kPlan, "..", "3"));
    CHECK_FALSE(erase_entry(kPlan, "mixes.mauve"));
    CHECK_FALSE(copy_section(kPlan, "coats.1.passes.0.path"));
    CHECK_FALSE(add_section(kPlan, "panel", ""));
    CHECK_FALSE(append_item(kPlan, "coats.9.passes", ""));
    CHECK_FALSE(set_value("plan = ", "title", "\"x\""));
}
