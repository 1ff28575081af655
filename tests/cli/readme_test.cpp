// The README makes no claim that a command cannot show: its plan, its commands and its error message are
// run.

#include "examples.h"
#include "fadewright/app/commands.h"
#include "program.h"
#include "published_table.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>

namespace {

using namespace fadewright;
using namespace fadewright::test;

std::string readme() { return file_text(source_path("README.md")); }

std::string block_text(const std::string& language) {
    for (const FencedBlock& block : fenced_blocks(readme()))
        if (block.language == language) return block.text;
    return "";
}

std::ptrdiff_t line_count(const std::string& text) { return std::count(text.begin(), text.end(), '\n'); }

}  // namespace

TEST_CASE("the README has 90 to 130 lines", "[cli][docs]") {
    CHECK(line_count(readme()) >= 90);
    CHECK(line_count(readme()) <= 130);
}

TEST_CASE("every command of the README runs with the README's plan", "[cli][docs]") {
    CHECK(line_count(block_text("toml")) >= 12);
    CHECK(line_count(block_text("sh")) >= 6);
    run_examples(readme(), fresh_folder("readme"));
}

TEST_CASE("the mistake shown in the README is reported in these words", "[cli][docs]") {
    std::string plan = block_text("toml");
    const std::string expected_output = block_text("text");
    REQUIRE_FALSE(expected_output.empty());
    const std::string gun = "gun = \"fan-gun-small\"";
    REQUIRE(plan.find(gun) != std::string::npos);
    plan.replace(plan.find(gun), gun.size(), "gun = \"fan-gun-smal\"");  // a letter is missing
    const std::string folder = fresh_folder("readme-mistake");
    write_file(folder + "/my-fade.toml", plan);
    CHECK(run_line(folder, "fadewright check my-fade.toml") != 0);
    CHECK(output_of_last_line(folder) == expected_output);
}

TEST_CASE("every picture of the README is in the gallery", "[cli][docs]") {
    const std::string text = readme();
    std::size_t pictures = 0;
    for (std::size_t at = text.find("](renders/"); at != std::string::npos;
         at = text.find("](renders/", at + 1)) {
        const std::string path = text.substr(at + 2, text.find(')', at) - at - 2);
        INFO(path);
        CHECK(std::filesystem::exists(source_path(path)));
        ++pictures;
    }
    CHECK(pictures >= 5);
}

TEST_CASE("the README names every guide", "[cli][docs]") {
    const std::string text = readme();
    for (const auto& file : std::filesystem::directory_iterator(source_path("src/app/guides"))) {
        INFO(file.path());
        CHECK(text.find("`" + file.path().stem().string() + "`") != std::string::npos);
    }
}
