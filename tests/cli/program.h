// Runs the real program as a user's shell would, within a time limit.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <vector>

namespace fadewright::test {

enum class Output { read, closed };  // closed: a pipe whose reader has gone

struct RunOptions {
    std::vector<std::string> arguments;
    std::vector<std::string> environment;  // NAME=value, added to ours
    std::string input = "/dev/null";       // the file that is standard input
    Output output = Output::read;
    std::chrono::seconds limit{30};
};

struct RunResult {
    int exit = 0;  // 128 + the signal's number if one ended it, as a shell shows it
    bool in_time = true;
    double seconds = 0.0;  // of processor time, so that a busy machine does not matter
    std::string out, err;
};

// Runs with the source tree as the working folder, so that paths below it print the same everywhere.
[[nodiscard]] RunResult run_program(const RunOptions& run);

// Starts the program as run_program() does, without output, and does not wait for it; then its exit code,
// or nothing after a signal.
[[nodiscard]] int start_program(std::vector<std::string> arguments);
[[nodiscard]] std::optional<int> wait_for_program(int child);

// FW_SEED of the environment; default: the given seed.
[[nodiscard]] unsigned seed_or_default(unsigned default_seed);

// A new empty folder in the build tree. Tests run in parallel: each uses its own name.
[[nodiscard]] std::string fresh_folder(const std::string& name);

[[nodiscard]] std::string file_text(const std::string& path);  // a missing file is an empty text
void write_file(const std::string& path, const std::string& bytes);

}  // namespace fadewright::test
