// The blank spray-out card, checked with the tools of another program (poppler): page box, text, fonts, true
// size.
#include "fadewright/report/blank_card.h"

#include "fadewright/base/files.h"
#include "pdf_tools.h"

#include <catch2/catch.hpp>

#include <string>

using namespace fadewright;
using test::command_output;

namespace {

std::string write_card(report::Paper paper, DisplayUnits units = {}) {
    const std::string path =
        test::scratch_file(paper == report::Paper::A4 ? "blank-a4.pdf" : "blank-letter.pdf");
    REQUIRE(write_file_atomic(path, report::blank_card_pdf(paper, units)));
    return path;
}

}  // namespace

TEST_CASE("the blank card is one page of exactly the paper's size", "[report][pdf]") {
    // A4 is 210 x 297 mm, Letter 8.5 x 11 in; a point is 1/72 in.
    CHECK(command_output("pdfinfo '" + write_card(report::Paper::A4) + "'").find("595.276 x 841.89 pts") !=
          std::string::npos);
    const std::string letter = command_output("pdfinfo '" + write_card(report::Paper::Letter) + "'");
    CHECK(letter.find("612 x 792 pts") != std::string::npos);
    CHECK(letter.find("Pages:           1\n") != std::string::npos);
}

TEST_CASE("the blank card's bar is 100 millimetres or 4 inches long", "[report][pdf][units]") {
    for (const report::Paper paper : {report::Paper::A4, report::Paper::Letter})
        for (const auto& [units, long_mm] :
             {std::pair{UnitSystem::metric, 100.0}, std::pair{UnitSystem::us, 4 * 25.4}}) {
            const Picture page = test::render_page(write_card(paper, units), 1);
            CHECK(page.width == Approx(10 * size_of(paper).width_mm).margin(1));
            const int rows = test::count_bar_rows(page, long_mm);  // it is 2.2 mm high
            CHECK(rows >= 20);
            CHECK(rows <= 24);
        }
    const std::string page_text =
        command_output("pdftotext '" + write_card(report::Paper::Letter, UnitSystem::us) + "' -");
    CHECK(page_text.find("it must be 4 in long") != std::string::npos);
}

TEST_CASE("half the field is black, half white, and five strips high", "[report][pdf]") {
    const Picture page = test::render_page(write_card(report::Paper::A4), 1);
    const int y = 700;  // within the field
    int black = 0;
    for (int x = 0; x < page.width; ++x) black += page.pixel(x, y)[0] < 10;
    CHECK(black == Approx(760).margin(6));  // 76 mm, and the frame's line
    int column = 0;
    const int x = 500;  // within the black half
    for (int row = 300; row < page.height; ++row) column += page.pixel(x, row)[0] < 10;
    CHECK(column == Approx(1100).margin(3));  // 5 strips of 22 mm; the frame is ink grey and 0.15 mm wide
}

TEST_CASE("the text of the blank card is real text in embedded fonts", "[report][pdf]") {
    const std::string path = write_card(report::Paper::A4);
    const std::string text = command_output("pdftotext -layout '" + path + "' -");
    for (const std::string words :
         {"Spray-out card", "actual size", "black half", "white half", "bare", "1 coat", "4 coats",
          "Mix, parts by volume", "Reducer, % of paint", "Gun, nozzle, needle", "Air pressure",
          "Temperature, humidity", "Date and painter", "Viewing light", "L* 50",
          "fadewright help spray-out-card", "fadewright fit-paint"}) {
        INFO(words);
        CHECK(text.find(words) != std::string::npos);
    }
    test::check_boxes_and_fonts(path, "595.28   841.89");
}

TEST_CASE("the same card is the same file", "[report][pdf]") {
    CHECK(report::blank_card_pdf(report::Paper::A4) == report::blank_card_pdf(report::Paper::A4));
}
