// The gallery: every file of renders/ is made again by the program, as renders/gallery.txt says, and compared.
//
// FW_ACCEPT=1 puts the new files in their place; look at them before they are committed.
#include "../cli/program.h"
#include "fadewright/base/files.h"
#include "fadewright/render/compare.h"
#include "fadewright/render/png.h"
#include "published_table.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <optional>
#include <set>
#include <sstream>
#include <vector>

using namespace fadewright;
namespace fs = std::filesystem;

namespace {

// Another compiler's last digit may change single dithered pixels by one level. The most that one level of one
// channel can do is 1.25 CIEDE2000 (green, in very dark greys).
constexpr double kMax_dE = 1.3;
constexpr double kMax999_dE = 0.7;
constexpr double kMaxMean_dE = 0.01;
constexpr double kFalseColourFull_dE = 5;
constexpr double kNumberTolerance = 1e-6;  // relative, in tables

// A page of a PDF as a picture.
struct PdfPage {
    int number = 1;
    int resolution_dpi = 60;
};

struct Entry {
    std::string file;                    // below renders/
    std::vector<std::string> arguments;  // "{out}" stands for the file, or for the PDF
    std::optional<PdfPage> page;         // the file shows this page of the PDF that the command makes
};

std::string trim(const std::string& text) {
    const auto first = text.find_first_not_of(" \t\r");
    return first == std::string::npos ? "" : text.substr(first, text.find_last_not_of(" \t\r") - first + 1);
}

// Words of a command, split as a shell splits them; quotes hold words together.
std::vector<std::string> split_words(const std::string& command) {
    std::vector<std::string> words;
    std::optional<std::string> word;
    char quote = 0;
    for (const char c : command) {
        if (quote != 0 && c == quote) {
            quote = 0;
        } else if (quote == 0 && (c == '"' || c == '\'')) {
            quote = c;
            if (!word) word.emplace();
        } else if (quote == 0 && c == ' ') {
            if (word) words.push_back(*word);
            word.reset();
        } else {
            if (!word) word.emplace();
            *word += c;
        }
    }
    if (word) words.push_back(*word);
    return words;
}

// "page 3 at 60 dpi"
PdfPage parse_page(const std::string& text) {
    PdfPage page;
    std::istringstream in(text);
    std::string page_word, at_word, dpi_word;
    if (!(in >> page_word >> page.number >> at_word >> page.resolution_dpi >> dpi_word) ||
        page_word != "page" || at_word != "at" || dpi_word != "dpi")
        throw std::runtime_error("gallery.txt: not \"page N at D dpi\": " + text);
    return page;
}

Entry parse_entry(const std::string& line) {
    const auto bar = line.find('|');
    if (bar == std::string::npos) throw std::runtime_error("gallery.txt: no | in: " + line);
    const auto second_bar = line.find('|', bar + 1);
    Entry entry{trim(line.substr(0, bar)), split_words(line.substr(bar + 1, second_bar - bar - 1)), {}};
    if (second_bar != std::string::npos) entry.page = parse_page(line.substr(second_bar + 1));
    return entry;
}

std::vector<Entry> gallery() {
    std::ifstream in(test::source_path("renders/gallery.txt"));
    std::vector<Entry> entries;
    for (std::string line; std::getline(in, line);) {
        if (trim(line).empty() || line[0] == '#') continue;
        entries.push_back(parse_entry(line));
    }
    return entries;
}

bool accept_changes() {
    const char* accept = std::getenv("FW_ACCEPT");
    return accept && std::string(accept) == "1";
}

// "dusk-fade/picture.png" -> "<scratch>/gallery/dusk-fade-picture.<suffix>.png"
std::string scratch(const Entry& entry, const std::string& suffix) {
    std::string flat = entry.file;
    std::replace(flat.begin(), flat.end(), '/', '-');
    const fs::path name(flat);
    fs::create_directories(test::scratch_path("gallery"));
    return test::scratch_path("gallery/" + name.stem().string() + "." + suffix + name.extension().string());
}

void draw_page(const std::string& pdf, const PdfPage& page, const std::string& png) {
    const std::string number = std::to_string(page.number);
    const std::string command = "pdftoppm -r " + std::to_string(page.resolution_dpi) + " -f " + number +
                                " -l " + number + " -png -singlefile '" + pdf + "' '" +
                                fs::path(png).replace_extension().string() + "'";
    CAPTURE(command);
    REQUIRE(std::system(command.c_str()) == 0);
}

void run_entry(const Entry& entry, const std::string& out) {
    const std::string made = entry.page ? fs::path(out).replace_extension(".pdf").string() : out;
    test::RunOptions run;
    run.limit = std::chrono::seconds{200};
    run.arguments = entry.arguments;
    bool names_file = false;
    for (std::string& word : run.arguments)
        if (const auto at = word.find("{out}"); at != std::string::npos) {
            word.replace(at, 5, made);
            names_file = true;
        }
    CAPTURE(entry.file);
    REQUIRE(names_file);
    const test::RunResult ran = test::run_program(run);
    CAPTURE(ran.err);
    REQUIRE(ran.in_time);
    REQUIRE(ran.exit == 0);
    REQUIRE(fs::exists(made));
    if (entry.page) draw_page(made, *entry.page, out);
    REQUIRE(fs::exists(out));
}

Picture picture_of(const std::string& path) {
    const Result<std::string> bytes = read_file_bytes(path, kBinaryFileLimit_bytes);
    if (!bytes) throw std::runtime_error(bytes.error().message);
    Result<Picture> picture = render::read_picture(bytes.value(), path);
    if (!picture) throw std::runtime_error(picture.error().message);
    return std::move(picture).value();
}

// The difference of two pictures in words; empty if they are alike.
std::string picture_mismatch(const Entry& entry, const std::string& expected, const std::string& actual) {
    const Picture a = picture_of(expected), b = picture_of(actual);
    const auto found = render::difference(a, b);
    if (!found) return "the size differs";
    if (found->max <= kMax_dE && found->p999 <= kMax999_dE && found->mean <= kMaxMean_dE) return "";
    const std::string difference_path = scratch(entry, "difference");
    const Result<Success> written = write_file_atomic(
        difference_path, render::png_bytes(render::difference_picture(a, b, kFalseColourFull_dE), {}));
    std::ostringstream message;
    message << "CIEDE2000 max " << found->max << " at " << found->worst_x << "," << found->worst_y
            << ", 99.9 % " << found->p999 << ", mean " << found->mean
            << "\n  difference: " << (written ? difference_path : "not written");
    return message.str();
}

// A text split into numbers and the text between them.
struct Pieces {
    std::string between;
    std::vector<double> numbers;
};

Pieces pieces_of(const std::string& text) {
    Pieces pieces;
    for (std::size_t at = 0; at < text.size();) {
        const auto c = static_cast<unsigned char>(text[at]);
        const bool sign =
            text[at] == '-' && at + 1 < text.size() && std::isdigit(static_cast<unsigned char>(text[at + 1]));
        if (std::isdigit(c) || sign) {
            char* end = nullptr;
            pieces.numbers.push_back(std::strtod(text.c_str() + at, &end));
            at = static_cast<std::size_t>(end - text.c_str());
            pieces.between += '#';
        } else {
            pieces.between += text[at++];
        }
    }
    return pieces;
}

std::string table_mismatch(const std::string& expected, const std::string& actual) {
    const Pieces a = pieces_of(test::file_text(expected)), b = pieces_of(test::file_text(actual));
    if (a.between != b.between) return "the words differ";
    for (std::size_t i = 0; i < a.numbers.size(); ++i) {
        const double scale = std::max({1.0, std::abs(a.numbers[i]), std::abs(b.numbers[i])});
        if (!(std::abs(a.numbers[i] - b.numbers[i]) <= kNumberTolerance * scale))
            return "number " + std::to_string(i + 1) + " is " + std::to_string(b.numbers[i]) + ", was " +
                   std::to_string(a.numbers[i]);
    }
    return "";
}

}  // namespace

TEST_CASE("every file of renders/ is listed in gallery.txt, and every file listed exists", "[gallery]") {
    std::set<std::string> listed;
    for (const Entry& entry : gallery()) {
        CAPTURE(entry.file);
        CHECK(listed.insert(entry.file).second);  // no file twice
        if (!accept_changes()) CHECK(fs::exists(test::source_path("renders/" + entry.file)));
    }
    CHECK_FALSE(listed.empty());
    const fs::path root = test::source_path("renders");
    for (const fs::directory_entry& found : fs::recursive_directory_iterator(root)) {
        if (!found.is_regular_file()) continue;
        const std::string name = found.path().lexically_relative(root).generic_string();
        if (name == "gallery.txt" || name.starts_with("page/")) continue;  // page/ is made by tests/web
        INFO("renders/" << name << " is not in renders/gallery.txt");
        CHECK(listed.count(name) == 1);
    }
}

TEST_CASE("the program makes every file of renders/ as it is", "[gallery]") {
    for (const Entry& entry : gallery()) {
        const std::string expected = test::source_path("renders/" + entry.file);
        const std::string actual = scratch(entry, "actual");
        run_entry(entry, actual);
        if (accept_changes()) {
            fs::create_directories(fs::path(expected).parent_path());
            fs::copy_file(actual, expected, fs::copy_options::overwrite_existing);
        }
        INFO("renders/" << entry.file << " is not in the source tree; FW_ACCEPT=1 makes it");
        REQUIRE(fs::exists(expected));
        const bool picture = fs::path(entry.file).extension() == ".png";
        const std::string mismatch =
            picture ? picture_mismatch(entry, expected, actual) : table_mismatch(expected, actual);
        if (mismatch.empty()) continue;
        const std::string copy = scratch(entry, "expected");
        fs::copy_file(expected, copy, fs::copy_options::overwrite_existing);
        UNSCOPED_INFO("renders/" << entry.file << ": " << mismatch << "\n  actual: " << actual
                                 << "\n  expected: " << copy);
        CHECK(mismatch.empty());
    }
}

TEST_CASE("the comparisons of the gallery find differences, and its list is parsed", "[gallery]") {
    const Entry entry{"comparison/picture.png", {}, {}};
    Picture a(40, 30, 3);
    std::fill(a.samples.begin(), a.samples.end(), std::uint8_t{120});
    Picture b = a;
    b.pixel(5, 5)[1] = 123;
    const std::string first = scratch(entry, "first"), second = scratch(entry, "second");
    REQUIRE(write_file_atomic(first, render::png_bytes(a, {})));
    REQUIRE(write_file_atomic(second, render::png_bytes(b, {})));
    CHECK(picture_mismatch(entry, first, first).empty());
    CHECK_FALSE(picture_mismatch(entry, first, second).empty());
    const std::string first_table = test::scratch_path("gallery/one.csv"),
                      second_table = test::scratch_path("gallery/two.csv");
    const auto mismatch_of = [&](const std::string& x, const std::string& y) {
        test::write_file(first_table, x);
        test::write_file(second_table, y);
        return table_mismatch(first_table, second_table);
    };
    CHECK(mismatch_of("x,y\n1.5,-2e3\n", "x,y\n1.5000001,-2000\n").empty());
    CHECK_FALSE(mismatch_of("x,y\n1.5,-2e3\n", "x,y\n1.51,-2e3\n").empty());
    CHECK_FALSE(mismatch_of("x,y\n1.5,2\n", "x,z\n1.5,2\n").empty());
    CHECK_FALSE(mismatch_of("x,y\n1.5,2\n", "x,y\n1.5\n").empty());
    CHECK(split_words("a  'b c' \"d e\"f ''") == std::vector<std::string>{"a", "b c", "d ef", ""});
    const Entry page = parse_entry("sheet/page.png | sheet my.toml -o {out} | page 3 at 60 dpi");
    CHECK(page.file == "sheet/page.png");
    CHECK(page.arguments == std::vector<std::string>{"sheet", "my.toml", "-o", "{out}"});
    REQUIRE(page.page);
    CHECK(page.page->number == 3);
    CHECK(page.page->resolution_dpi == 60);
    CHECK_FALSE(parse_entry("a.png | preview my.toml -o {out}").page);
    CHECK_THROWS(parse_page("page three at 60 dpi"));
}
