#include "examples.h"

#include "program.h"

#include <array>
#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <sstream>

namespace fadewright::test {
namespace {

constexpr const char* kOutputFile = "output.txt";
constexpr std::array<std::string_view, 4> kFileOptions{"-o", "--plot", "--labels", "--sheet"};

void write_plans(const std::vector<FencedBlock>& blocks, const std::string& folder) {
    for (const FencedBlock& block : blocks) {
        if (block.language != "toml") continue;
        INFO(block.text);
        const std::string first_line = block.text.substr(0, block.text.find('\n'));
        REQUIRE(first_line.starts_with("# "));
        REQUIRE(first_line.ends_with(".toml"));
        write_file(folder + "/" + first_line.substr(2), block.text);
    }
}

void check_written_files(const std::string& line, const std::string& folder) {
    std::istringstream words(line);
    for (std::string previous, word; words >> word; previous = word)
        if (std::find(kFileOptions.begin(), kFileOptions.end(), previous) != kFileOptions.end())
            CHECK(std::filesystem::exists(folder + "/" + word));
}

}  // namespace

std::vector<FencedBlock> fenced_blocks(const std::string& markdown) {
    std::vector<FencedBlock> blocks;
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

int run_line(const std::string& folder, const std::string& line) {
    const std::string program_folder = std::filesystem::path(FW_PROGRAM).parent_path().string();
    const std::string shell = "cd '" + folder + "' && PATH='" + program_folder + "':\"$PATH\" && { " + line +
                              "; } >" + kOutputFile + " 2>&1 </dev/null";
    return std::system(shell.c_str());
}

std::string output_of_last_line(const std::string& folder) { return file_text(folder + "/" + kOutputFile); }

void run_examples(const std::string& markdown, const std::string& folder) {
    const std::vector<FencedBlock> blocks = fenced_blocks(markdown);
    write_plans(blocks, folder);
    for (const FencedBlock& block : blocks) {
        if (block.language != "sh") continue;
        std::istringstream lines(block.text);
        for (std::string line; std::getline(lines, line);) {
            if (line.empty() || line.starts_with("#")) continue;
            INFO(line);
            const int exit = run_line(folder, line);
            INFO(output_of_last_line(folder));
            CHECK(exit == 0);
            check_written_files(line, folder);
        }
    }
}

}  // namespace fadewright::test
