// Runs every case of tests/cli/*.test with the real program; case_file.h explains the files.
// FW_ACCEPT=1 rewrites their expected text.

#include "accepted.h"
#include "case_file.h"

#include <catch2/catch.hpp>

namespace {

using namespace fadewright::test;

void check_stream(const Expected& expected, const std::string& text) {
    if (expected.match == Match::exact) {
        CHECK(text == expected.text);
    } else {
        INFO(text);
        CHECK(missing_lines(expected, text) == "");
    }
}

}  // namespace

TEST_CASE("the command line gives the results of the case files", "[cli]") {
    const std::vector<std::string> paths = case_paths();
    REQUIRE(paths.size() >= 20);
    for (const std::string& path : paths) {
        INFO(path);
        const std::string scratch = fresh_folder("case");
        const RunResult ran = run_program(read_case(path, scratch).run);
        if (is_accepting()) accept_case(path, ran, scratch);
        const Case parsed = read_case(path, scratch);
        CHECK(ran.in_time);
        CHECK(ran.exit == parsed.exit);
        check_stream(parsed.out, ran.out);
        check_stream(parsed.err, ran.err);
    }
}
