// Lines fit their width, lose no word, and are never cut inside a character; pictures stay what they were.
#include "fadewright/report/canvas.h"
#include "fadewright/report/pdf_sheet.h"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace fadewright;
using namespace fadewright::report;

namespace {

constexpr double kRounding_mm = 0.01;

std::string joined(const std::vector<std::string>& lines, const std::string& between) {
    std::string text;
    for (const std::string& line : lines) text += (text.empty() ? "" : between) + line;
    return text;
}

}  // namespace

TEST_CASE("a paragraph is broken between words", "[report]") {
    const PdfSheet sheet(Paper::A4, "lines");
    const PdfText style{4};
    const std::string text =
        "Spray three light passes from the lower edge upwards and let each of them flash off for ten minutes";
    for (const double width : {25.0, 40.0, 80.0, 300.0}) {
        const std::vector<std::string> lines = sheet.wrap(text, style, width);
        CHECK(joined(lines, " ") == text);
        for (const std::string& line : lines) CHECK(sheet.text_width(line, style) <= width + kRounding_mm);
        // The next word would not have fitted.
        for (std::size_t i = 1; i < lines.size(); ++i) {
            const std::string word = lines[i].substr(0, lines[i].find(' '));
            CHECK(sheet.text_width(lines[i - 1] + " " + word, style) > width);
        }
    }
    CHECK(sheet.wrap(text, style, 300) == std::vector{text});
    CHECK(sheet.wrap("first\nsecond", style, 300) == std::vector<std::string>{"first", "second"});
}

TEST_CASE("a word that is longer than the line is broken too", "[report]") {
    const PdfSheet sheet(Paper::A4, "lines");
    const PdfText style{4};
    const std::string word = "extraordinarilylongpaintnamewithoutanyblank";
    const std::vector<std::string> lines = sheet.wrap(word, style, 30);
    CHECK(lines.size() > 2);
    CHECK(joined(lines, "") == word);
    for (const std::string& line : lines) CHECK(sheet.text_width(line, style) <= 30 + kRounding_mm);
}

TEST_CASE("units and negative numbers stay whole", "[report]") {
    const PdfSheet sheet(Paper::A4, "lines");
    const PdfText style{4};
    const std::string text = "4 to 5: -30 to -70 mm up, 450 mm/s, 3 times, 12 mL/min at 1.5 g/mL";
    for (double width = 20; width < 120; width += 0.5) {
        const std::vector<std::string> lines = sheet.wrap(text, style, width);
        CHECK(joined(lines, " ") == text);
    }
}

TEST_CASE("screen and paper break alike", "[report]") {
    const Canvas canvas(8, 8);
    const TextStyle style{24};
    const std::string text = "a pearl over a dark ground, faded in twelve passes from the left";
    const std::vector<std::string> lines = canvas.wrap(text, style, 300);
    CHECK(lines.size() > 1);
    CHECK(joined(lines, " ") == text);
    for (const std::string& line : lines) CHECK(canvas.text_width(line, style) <= 300);
}

TEST_CASE("a text that is too long ends with an ellipsis and fits", "[report]") {
    const PdfSheet sheet(Paper::A4, "lines");
    const PdfText style{4, kInk, Align::left, Weight::bold};
    const std::string text = "midnight-blue-over-silver-base, second batch";
    CHECK(sheet.ellipsize(text, style, 200) == text);
    CHECK(sheet.ellipsize(text, style, sheet.text_width(text, style)) == text);
    for (const double width : {12.0, 20.0, 33.0, 60.0}) {
        const std::string line = sheet.ellipsize(text, style, width);
        CHECK(line.ends_with("…"));
        const std::string kept = line.substr(0, line.size() - std::string("…").size());
        CHECK(text.starts_with(kept));
        CHECK(sheet.text_width(line, style) <= width + kRounding_mm);
        // One more character would not have fitted.
        CHECK(sheet.text_width(text.substr(0, kept.size() + 1) + "…", style) > width);
    }
    CHECK(sheet.ellipsize("two\nlines", style, 200) == "two lines");
}

TEST_CASE("no letter loses its accent to an ellipsis", "[report]") {
    const PdfSheet sheet(Paper::A4, "lines");
    const PdfText style{4};
    std::string text;
    while (text.size() < 300) text += "e\u0301";
    for (double width = 10; width < 40; width += 0.7) {
        const std::string line = sheet.ellipsize(text, style, width);
        REQUIRE(line.ends_with("…"));
        const std::string kept = line.substr(0, line.size() - std::string("…").size());
        CHECK(kept.size() % std::string("e\u0301").size() == 0);
    }
}

TEST_CASE("a picture on a canvas keeps its colours, and what is beyond the canvas is left out", "[report]") {
    Picture picture(5, 4, 3);
    for (std::size_t i = 0; i < picture.samples.size(); ++i)
        picture.samples[i] = static_cast<std::uint8_t>(37 * i);
    Canvas canvas(5, 4);
    canvas.draw_picture(0, 0, picture);
    CHECK(canvas.picture() == picture);
    for (const auto& [left, top] : {std::pair{-2, 1}, std::pair{3, -3}, std::pair{9, 9}, std::pair{-9, 0}}) {
        Canvas shifted(5, 4, {1, 2, 3});
        shifted.draw_picture(left, top, picture);
        const Picture drawn = shifted.picture();
        for (int y = 0; y < 4; ++y)
            for (int x = 0; x < 5; ++x) {
                const bool covered = x >= left && x < left + 5 && y >= top && y < top + 4;
                const std::uint8_t background[] = {1, 2, 3};
                const std::uint8_t* expected = covered ? picture.pixel(x - left, y - top) : background;
                CHECK(std::equal(expected, expected + 3, drawn.pixel(x, y)));
            }
    }
}
