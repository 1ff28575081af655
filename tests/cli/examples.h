// Examples of a Markdown page, run as a reader would: plans from its ```toml blocks, commands from its
// ```sh blocks.
#pragma once

#include <string>
#include <vector>

namespace fadewright::test {

struct FencedBlock {
    std::string language, text;
};

[[nodiscard]] std::vector<FencedBlock> fenced_blocks(const std::string& markdown);

// Runs a line of shell in the folder, with the program on the path; the exit code.
[[nodiscard]] int run_line(const std::string& folder, const std::string& line);
[[nodiscard]] std::string output_of_last_line(const std::string& folder);  // both streams of run_line()

// Writes each ```toml block to the file that its first line names ("# my-fade.toml"), then runs the ```sh
// blocks line by line. Checks that every line succeeds and writes the files it names.
void run_examples(const std::string& markdown, const std::string& folder);

}  // namespace fadewright::test
