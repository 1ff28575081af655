// The blank card, judged by another program's tools (poppler): page box, text, fonts, and true size.
#include "fadewright/report/blank_card.h"

#include "fadewright/base/files.h"
#include "fadewright/render/png.h"
#include "published.h"

#include <catch2/catch.hpp>

#include <unistd.h>

#include <cstdio>
#include <sstream>
#include <string>

using namespace fadewright;

namespace {

std::string said_by(const std::string& command) {
    std::string said;
    std::FILE* pipe = ::popen(command.c_str(), "r");
    REQUIRE(pipe);
    char part[4096];
    for (std::size_t n; (n = std::fread(part, 1, sizeof part, pipe)) > 0;) said.append(part, n);
    INFO(command);
    REQUIRE(::pclose(pipe) == 0);
    return said;
}

std::string written(report::Paper paper) {
    // Tests run side by side, each in a process of its own.
    const std::string name = std::to_string(::getpid()) + (paper == report::Paper::A4 ? "-a4" : "-letter");
    const std::string path = test::scratch_path("blank-" + name + ".pdf");
    REQUIRE(write_whole(path, report::blank_card_pdf(paper)));
    return path;
}

// The page at 10 pixels to the millimetre.
Picture printed(const std::string& pdf) {
    const std::string root = pdf.substr(0, pdf.size() - 4);
    said_by("pdftoppm -r 254 -png -singlefile '" + pdf + "' '" + root + "'");
    const auto bytes = read_whole(root + ".png", kBinaryFileLimit_bytes);
    REQUIRE(bytes);
    auto picture = render::read_picture(bytes.value(), root);
    REQUIRE(picture);
    return std::move(picture).value();
}

// Length of the run of pixels darker than the paper that begins first in the row; 0 if there is none.
int run_in_row(const Picture& picture, int y) {
    int x = 0;
    while (x < picture.width && picture.pixel(x, y)[0] > 230) ++x;
    const int begin = x;
    while (x < picture.width && picture.pixel(x, y)[0] <= 230) ++x;
    return x - begin;
}

}  // namespace

TEST_CASE("the blank card is one page of exactly the paper's size", "[report][pdf]") {
    // A4 is 210 x 297 mm, Letter 8.5 x 11 in; a point is 1/72 in.
    CHECK(said_by("pdfinfo '" + written(report::Paper::A4) + "'").find("595.276 x 841.89 pts") !=
          std::string::npos);
    const std::string letter = said_by("pdfinfo '" + written(report::Paper::Letter) + "'");
    CHECK(letter.find("612 x 792 pts") != std::string::npos);
    CHECK(letter.find("Pages:           1\n") != std::string::npos);
}

TEST_CASE("the blank card's bar is 100 millimetres long", "[report][pdf]") {
    for (const report::Paper paper : {report::Paper::A4, report::Paper::Letter}) {
        const Picture page = printed(written(paper));
        CHECK(page.width == Approx(10 * size_of(paper).width_mm).margin(1));
        int rows = 0;
        for (int y = 200; y < 350; ++y)  // the bar stands alone in its rows, below the heading
            if (const int run = run_in_row(page, y); run >= 998 && run <= 1002) ++rows;
        CHECK(rows >= 20);  // 2.2 mm high
        CHECK(rows <= 24);
    }
}

TEST_CASE("half the field is black, half white, and five strips high", "[report][pdf]") {
    const Picture page = printed(written(report::Paper::A4));
    const int y = 700;  // within the field
    int black = 0;
    for (int x = 0; x < page.width; ++x) black += page.pixel(x, y)[0] < 10;
    CHECK(black == Approx(760).margin(6));  // 76 mm, and the frame's line
    int column = 0;
    const int x = 500;  // within the black half
    for (int row = 300; row < page.height; ++row) column += page.pixel(x, row)[0] < 10;
    CHECK(column == Approx(1100).margin(3));  // 5 strips of 22 mm; the frame is ink grey and 0.15 mm wide
}

TEST_CASE("the blank card's words are real text in embedded fonts", "[report][pdf]") {
    const std::string path = written(report::Paper::A4);
    const std::string text = said_by("pdftotext -layout '" + path + "' -");
    for (const std::string words :
         {"Test card", "actual size", "black half", "white half", "bare", "1 coat", "4 coats",
          "Mix, parts by volume", "Reducer, % of paint", "Gun, nozzle, needle", "Air pressure",
          "Temperature, humidity", "Date and painter", "Light it is judged in", "L* 50",
          "fadewright help card"}) {
        INFO(words);
        CHECK(text.find(words) != std::string::npos);
    }
    std::stringstream fonts(said_by("pdffonts '" + path + "'"));
    std::string line;
    std::getline(fonts, line);
    std::getline(fonts, line);  // head and rule
    int seen = 0;
    while (std::getline(fonts, line)) {
        INFO(line);
        CHECK(line.find("DejaVu") != std::string::npos);
        CHECK(line.find(" yes yes ") != std::string::npos);  // embedded, subset
        ++seen;
    }
    CHECK(seen >= 2);
}

TEST_CASE("the same card is the same file", "[report][pdf]") {
    CHECK(report::blank_card_pdf(report::Paper::A4) == report::blank_card_pdf(report::Paper::A4));
}
