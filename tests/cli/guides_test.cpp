// Every example of the guides that `fadewright help TOPIC` prints is run.

#include "examples.h"
#include "program.h"
#include "published_table.h"

#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <filesystem>

namespace {

using namespace fadewright::test;

constexpr std::array<std::string_view, 16> kGuides{"start",           "page",
                                                   "mixing",          "fades",
                                                   "effects",         "sheet",
                                                   "client",          "glossary",
                                                   "safety",          "templates",
                                                   "piece-and-masks", "trouble",
                                                   "units",           "record-and-repair",
                                                   "spray-out-card",  "spray-pattern-card"};

void run_guide(const std::string& name) {
    const std::string text = file_text(source_path("src/app/guides/" + name + ".md"));
    REQUIRE(text.starts_with("# "));
    run_examples(text, fresh_folder("guide-" + name));
}

}  // namespace

TEST_CASE("every guide is known to these tests", "[cli][docs]") {
    std::size_t files = 0;
    for (const auto& file : std::filesystem::directory_iterator(source_path("src/app/guides"))) {
        INFO(file.path());
        CHECK(std::find(kGuides.begin(), kGuides.end(), file.path().stem().string()) != kGuides.end());
        ++files;
    }
    CHECK(files == kGuides.size());
}

TEST_CASE("guide start: every example runs", "[cli][docs]") { run_guide("start"); }
TEST_CASE("guide page: every example runs", "[cli][docs]") { run_guide("page"); }
TEST_CASE("guide mixing: every example runs", "[cli][docs]") { run_guide("mixing"); }
TEST_CASE("guide fades: every example runs", "[cli][docs]") { run_guide("fades"); }
TEST_CASE("guide effects: every example runs", "[cli][docs]") { run_guide("effects"); }
TEST_CASE("guide sheet: every example runs", "[cli][docs]") { run_guide("sheet"); }
TEST_CASE("guide client: every example runs", "[cli][docs]") { run_guide("client"); }
TEST_CASE("guide templates: every example runs", "[cli][docs]") { run_guide("templates"); }
TEST_CASE("guide record-and-repair: every example runs", "[cli][docs]") { run_guide("record-and-repair"); }
TEST_CASE("guide piece-and-masks: every example runs", "[cli][docs]") { run_guide("piece-and-masks"); }
TEST_CASE("guide spray-pattern-card: every example runs", "[cli][docs]") { run_guide("spray-pattern-card"); }
TEST_CASE("guide spray-out-card: every example runs", "[cli][docs]") { run_guide("spray-out-card"); }
TEST_CASE("guide units: every example runs", "[cli][docs]") { run_guide("units"); }
TEST_CASE("guide glossary: every example runs", "[cli][docs]") { run_guide("glossary"); }
TEST_CASE("guide safety: every example runs", "[cli][docs]") { run_guide("safety"); }
TEST_CASE("guide trouble: every example runs", "[cli][docs]") { run_guide("trouble"); }
