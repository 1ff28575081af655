// The README makes no claim that a command cannot show: its plan, its commands and its error message are run.

#include "program.h"
#include "published_table.h"

#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <sstream>

namespace {

using namespace fadewright::test;

struct Fenced {
    std::string language, text;
};

std::vector<Fenced> fenced_blocks(const std::string& markdown) {
    std::vector<Fenced> blocks;
    std::istringstream in(markdown);
    bool open = false;
    for (std::string line; std::getline(in, line);) {
        if (line.starts_with("```")) {
            open = !open;
            if (open) blocks.push_back({line.substr(3), ""});
        } else if (open) {
            blocks.back().text += line + "\n";
        }
    }
    return blocks;
}

// Runs a line in the folder, with the program on the path; gives its exit code.
int run_line(const std::string& folder, const std::string& line) {
    const std::string beside = std::filesystem::path(FW_PROGRAM).parent_path().string();
    const std::string shell = "cd '" + folder + "' && PATH='" + beside + "':\"$PATH\" && { " + line +
                              "; } >said.txt 2>&1 </dev/null";
    return std::system(shell.c_str());
}

std::string block_text(const std::vector<Fenced>& blocks, const std::string& language) {
    for (const Fenced& block : blocks)
        if (block.language == language) return block.text;
    return "";
}

}  // namespace

TEST_CASE("every command of the README does what it says, with the README's plan", "[cli][docs]") {
    const auto blocks = fenced_blocks(file_text(source_path("README.md")));
    const std::string folder = fresh_folder("readme");
    std::size_t plans = 0;
    for (const Fenced& block : blocks) {  // a plan begins with its file's name: "# my-panel.toml"
        if (block.language != "toml") continue;
        REQUIRE(block.text.starts_with("# "));
        write_file(folder + "/" + block.text.substr(2, block.text.find('\n') - 2), block.text);
        ++plans;
    }
    REQUIRE(plans >= 2);
    std::size_t commands = 0;
    for (const Fenced& block : blocks) {
        if (block.language != "sh") continue;
        std::istringstream lines(block.text);
        for (std::string line; std::getline(lines, line);) {
            if (line.empty() || line.starts_with("#")) continue;
            INFO(line);
            const int exit = run_line(folder, line);
            INFO(file_text(folder + "/said.txt"));
            CHECK(exit == 0);
            ++commands;
            // A file named behind -o or --sheet must be there now.
            std::istringstream arguments(line);
            for (std::string before, word; arguments >> word; before = word)
                if (before == "-o" || before == "--sheet")
                    CHECK(std::filesystem::exists(folder + "/" + word));
        }
    }
    CHECK(commands >= 15);
}

TEST_CASE("the mistake shown in the README is told in these words", "[cli][docs]") {
    const auto blocks = fenced_blocks(file_text(source_path("README.md")));
    std::string plan = block_text(blocks, "toml");
    const std::string expected_output = block_text(blocks, "text");
    REQUIRE_FALSE(expected_output.empty());
    const std::string gun = "gun = \"detail-gun-fan\"\n";
    plan.insert(plan.find(gun) + gun.size(), "speed = \"300 mm\"\n");
    const std::string folder = fresh_folder("readme-mistake");
    write_file(folder + "/my-panel.toml", plan);
    CHECK(run_line(folder, "fadewright check my-panel.toml") != 0);
    CHECK(file_text(folder + "/said.txt") == expected_output);
}

TEST_CASE("every picture of the README is in the gallery", "[cli][docs]") {
    const std::string readme = file_text(source_path("README.md"));
    std::size_t pictures = 0;
    for (std::size_t at = readme.find("](renders/"); at != std::string::npos;
         at = readme.find("](renders/", at + 1)) {
        const std::string path = readme.substr(at + 2, readme.find(')', at) - at - 2);
        INFO(path);
        CHECK(std::filesystem::exists(source_path(path)));
        ++pictures;
    }
    CHECK(pictures >= 6);
}
