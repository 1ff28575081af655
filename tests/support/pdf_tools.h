// Words, boxes and pixels of PDF files, read with the tools of poppler and qpdf.
#pragma once

#include "fadewright/base/image.h"
#include "published_table.h"

#include <string>
#include <vector>

namespace fadewright::test {

[[nodiscard]] std::string scratch_file(
    const std::string& name);  // tests run in parallel, each in its own process
std::string command_output(const std::string& command);
[[nodiscard]] std::string bytes_of(const std::string& path);

struct Word {
    int page = 0;
    double x0 = 0, y0 = 0, x1 = 0, y1 = 0;  // points
    std::string text;
    [[nodiscard]] double height() const { return y1 - y0; }
};

[[nodiscard]] std::vector<Word> pdf_words(const std::string& pdf);

// Overlapping words. Their boxes include the space above capitals and below descenders; letters touch only
// beyond that.
[[nodiscard]] std::string overlapping_words(const std::vector<Word>& words);

[[nodiscard]] int page_count(const std::string& pdf);

// Every page has that box, and every font is DejaVu, embedded as a subset.
void check_boxes_and_fonts(const std::string& pdf, const std::string& box);

// A page at 254 dots per inch: a pixel is 0.1 mm.
[[nodiscard]] Picture render_page(const std::string& pdf, int page);

// Number of rows whose first dark run has that length within 0.1 mm: those of the scale bar.
[[nodiscard]] int count_bar_rows(const Picture& page, double mm, int first_row = 0);

}  // namespace fadewright::test
