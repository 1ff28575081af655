#include "pdf_tools.h"

#include "fadewright/base/files.h"
#include "fadewright/render/png.h"

#include <unistd.h>
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <regex>
#include <sstream>

namespace fadewright::test {

namespace {

// Length of the first run of pixels darker than the paper in the row; 0 without one.
int run_in_row(const Picture& picture, int y) {
    int x = 0;
    while (x < picture.width && picture.pixel(x, y)[0] > 230) ++x;
    const int begin = x;
    while (x < picture.width && picture.pixel(x, y)[0] <= 230) ++x;
    return x - begin;
}

}  // namespace

std::string scratch_file(const std::string& name) {
    return scratch_path(std::to_string(::getpid()) + "-" + name);
}

std::string command_output(const std::string& command) {
    std::string output;
    std::FILE* pipe = ::popen(command.c_str(), "r");
    REQUIRE(pipe);
    char part[4096];
    for (std::size_t n; (n = std::fread(part, 1, sizeof part, pipe)) > 0;) output.append(part, n);
    INFO(command << "\n" << output);
    REQUIRE(::pclose(pipe) == 0);
    return output;
}

std::string bytes_of(const std::string& path) {
    const auto bytes = read_file_bytes(path, kBinaryFileLimit_bytes);
    REQUIRE(bytes);
    return bytes.value();
}

std::vector<Word> pdf_words(const std::string& pdf) {
    const std::string html = command_output("pdftotext -bbox '" + pdf + "' -");
    const std::regex word(
        "<word xMin=\"([^\"]*)\" yMin=\"([^\"]*)\" xMax=\"([^\"]*)\" yMax=\"([^\"]*)\">(.*)</word>");
    std::vector<Word> words;
    std::stringstream in(html);
    int page = 0;
    for (std::string line; std::getline(in, line);) {
        if (line.find("<page ") != std::string::npos) ++page;
        std::smatch m;
        if (std::regex_search(line, m, word))
            words.push_back({page, std::stod(m[1]), std::stod(m[2]), std::stod(m[3]), std::stod(m[4]), m[5]});
    }
    REQUIRE_FALSE(words.empty());
    return words;
}

std::string overlapping_words(const std::vector<Word>& words) {
    std::string found;
    for (std::size_t i = 0; i < words.size(); ++i)
        for (std::size_t k = i + 1; k < words.size(); ++k) {
            const Word &a = words[i], &b = words[k];
            if (a.page != b.page) continue;
            const double wide = std::min(a.x1, b.x1) - std::max(a.x0, b.x0);
            const double high = std::min(a.y1, b.y1) - std::max(a.y0, b.y0);
            if (wide <= 0.5 || high <= 0.25 * std::min(a.height(), b.height())) continue;
            found += a.text + " and " + b.text + " on page " + std::to_string(a.page) + "; ";
        }
    return found;
}

int page_count(const std::string& pdf) {
    const std::string info = command_output("pdfinfo '" + pdf + "'");
    return std::stoi(info.substr(info.find("Pages:") + 6));
}

void check_boxes_and_fonts(const std::string& pdf, const std::string& box) {
    const int pages = page_count(pdf);
    std::stringstream info(
        command_output("pdfinfo -box -f 1 -l " + std::to_string(pages) + " '" + pdf + "'"));
    int boxes = 0;
    for (std::string line; std::getline(info, line);)
        if (line.find("MediaBox:") != std::string::npos) {
            INFO(line);
            CHECK(line.find(box) != std::string::npos);
            ++boxes;
        }
    CHECK(boxes == pages);
    std::stringstream fonts(command_output("pdffonts '" + pdf + "'"));
    std::string line;
    std::getline(fonts, line);
    std::getline(fonts, line);  // head and rule
    int font_count = 0;
    while (std::getline(fonts, line)) {
        INFO(line);
        CHECK(line.find("DejaVu") != std::string::npos);
        CHECK(line.find(" yes yes ") != std::string::npos);  // embedded, subset
        ++font_count;
    }
    CHECK(font_count >= 2);
}

Picture render_page(const std::string& pdf, int page) {
    const std::string root = pdf.substr(0, pdf.size() - 4) + "-" + std::to_string(page);
    const std::string number = std::to_string(page);
    command_output("pdftoppm -r 254 -f " + number + " -l " + number + " -png -singlefile '" + pdf + "' '" +
                   root + "'");
    auto picture = render::read_picture(bytes_of(root + ".png"), root);
    REQUIRE(picture);
    return std::move(picture).value();
}

int count_bar_rows(const Picture& page, double mm, int first_row) {
    int rows = 0;
    for (int y = first_row; y < page.height; ++y)
        if (std::abs(run_in_row(page, y) - 10 * mm) <= 1) ++rows;
    return rows;
}

}  // namespace fadewright::test
