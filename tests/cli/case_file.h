// A test case of the command line in one file: the arguments and the expected results.
//
//     # what this tests
//     command  preview presets/plans/dusk-fade.toml -o $SCRATCH/a.png
//     exit     0
//     --- out
//     wrote $SCRATCH/a.png: 1600 x 1017 px, seen in Daylight, north sky (D65)
//     --- err contains
//     no such light
//
// The lines before the first "---" are the head:
//
//     command      the arguments; double quotes keep blanks together
//     exit         the exit code; 128 + its number if a signal ended the program
//     environment  NAME=value, may be repeated
//     input        a file of the source tree that is standard input; nothing if absent
//     output       "closed": standard output is a pipe whose reader has gone
//
// A section "--- out" or "--- err" is the whole standard output or error stream; with "contains" each of
// its lines must be part of it. A stream without a section must be empty. $SCRATCH is a fresh empty folder.
// The program runs in the source tree.
#pragma once

#include "program.h"

#include <string>
#include <vector>

namespace fadewright::test {

enum class Match { exact, contains };

struct Expected {
    Match match = Match::exact;
    std::string text;  // empty if the file has no such section
};

struct Case {
    RunOptions run;
    int exit = 0;
    Expected out, err;
};

[[nodiscard]] std::vector<std::string> case_paths();  // below the source tree, sorted
[[nodiscard]] Case read_case(const std::string& path, const std::string& scratch);

// Rewrites the complete sections of the file from the current output; head and "contains" sections stay.
void accept_case(const std::string& path, const RunResult& ran, const std::string& scratch);

// The lines of a "contains" section that are missing in the text.
[[nodiscard]] std::string missing_lines(const Expected& expected, const std::string& text);

}  // namespace fadewright::test
