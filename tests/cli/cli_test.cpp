// Runs every case of tests/cli/*.test with the real program; case_file.h explains the files.
// FW_ACCEPT=1 rewrites their expected text.

#include "accepted.h"
#include "case_file.h"

#include <catch2/catch.hpp>

namespace {

using namespace fadewright::test;

void check_stream(const Expected& expected, const std::string& text) {
    if (expected.match == Match::whole) {
        CHECK(text == expected.text);
    } else {
        INFO(text);
        CHECK(missing_lines(expected, text) == "");
    }
}

}  // namespace

TEST_CASE("the command line answers as its case files say", "[cli]") {
    const std::vector<std::string> paths = case_paths();
    REQUIRE(paths.size() >= 20);
    for (const std::string& path : paths) {
        INFO(path);
        const std::string scratch = fresh_folder("case");
        const Ran ran = run_program(read_case(path, scratch).run);
        if (accepting()) accept_case(path, ran, scratch);
        const Case one = read_case(path, scratch);
        CHECK(ran.in_time);
        CHECK(ran.exit == one.exit);
        check_stream(one.out, ran.out);
        check_stream(one.talk, ran.talk);
    }
}
