// Files of measured spectra that must be read correctly. tests/published/formats has hand-made files of test
// colours 1 and 9, one per dialect; their values are in cie_test_colours.csv.

#include "fadewright/colour/delta_e.h"
#include "fadewright/colour/illuminant.h"
#include "published_table.h"
#include "read_spectra.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <sstream>

namespace {

using namespace fadewright;
using namespace fadewright::colour;
using namespace fadewright::measured;
using test::read_spectra;
using test::ReadSpectra;

std::string text_of(const std::string& path) {
    std::ifstream in(path, std::ios::binary);
    REQUIRE(in.good());
    std::ostringstream out;
    out << in.rdbuf();
    return out.str();
}

std::string format_text(const std::string& name) {
    return text_of(test::source_path("tests/published/formats/" + name));
}

MeasuredFile read_good(const std::string& text, const std::string& name, bool warned = false) {
    const ReadSpectra read = read_spectra(text, name);
    INFO(to_text(read.diagnostics));
    CHECK(read.diagnostics.empty() == !warned);
    REQUIRE(read.file);
    return *read.file;
}

std::vector<double> test_colour(const std::string& column) {
    std::vector<double> values;
    for (const auto& row : test::published_rows("cie_test_colours.csv"))
        if (row.number("nm") >= 400 && row.number("nm") <= 700) values.push_back(row.number(column));
    return values;
}

// 31 values from 400 to 700 nm, equal to those of the table except for the rounding of a division by 100.
void check_is_test_colour(const MeasuredSample& sample, const std::string& column) {
    INFO(column);
    const std::vector<double> expected = test_colour(column);
    REQUIRE(sample.values.size() == expected.size());
    for (std::size_t i = 0; i < expected.size(); ++i) {
        CHECK(sample.wavelengths_nm[i] == 400 + 10 * static_cast<double>(i));
        CHECK(std::abs(sample.values[i] - expected[i]) < 1e-15);
    }
}

bool has_assumption(const MeasuredFile& file, const std::string& phrase) {
    for (const std::string& decision : file.assumptions)
        if (decision.find(phrase) != std::string::npos) return true;
    return false;
}

struct Dialect {
    std::string file, format, decision;
    bool warned = false;
};

// The files with both colours at 10 nm under their names.
const std::vector<Dialect>& dialects() {
    static const std::vector<Dialect> all{
        {"min_spectral_nm_fraction.txt", "CGATS text",
         "fractions: not stated in the file; the largest is 0.828"},
        {"argyll_percent.ti3", "CGATS text", "per cent: not stated in the file; the largest is 82.8"},
        {"pairs_spectral_nm_pct.txt", "CGATS text", "named PCT"},
        {"pairs_spectral_nm_dec.txt", "CGATS text", "named DEC"},
        {"spectral_nm_underscore.txt", "CGATS text", "fractions"},
        {"nm_fraction.txt", "CGATS text", "fractions"},
        {"nm_lower_percent.txt", "CGATS text", "per cent"},
        {"quantity_percent.txt", "CGATS text", "stated by QUANTITY"},
        {"spectral_pct_named.txt", "CGATS text", "named PCT"},
        {"spectral_dec_ending.txt", "CGATS text", "named DEC"},
        {"thousandths.sp", "CGATS text", "times 1000"},
        {"several_tables.txt", "CGATS text", "table 1 of 2 has no spectra", true},
        {"min_reflectance_10nm.cxf", "CxF3", "always in CxF3"},
        {"rows_comma.csv", "CSV", "in the first row"},
        {"rows_semicolon_percent.csv", "CSV", "decimal commas"},
        {"columns_tab.csv", "CSV", "tabs; wavelengths are in the first column"},
        {"columns_percent.csv", "CSV", "per cent: stated in the header"}};
    return all;
}

std::string replace_all(std::string text, const std::string& from, const std::string& to) {
    for (std::size_t at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size()))
        text.replace(at, from.size(), to);
    return text;
}

}  // namespace

TEST_CASE("every dialect gives the same two spectra and states its assumptions", "[colour][spectra]") {
    for (const Dialect& dialect : dialects()) {
        INFO(dialect.file);
        const MeasuredFile file = read_good(format_text(dialect.file), dialect.file, dialect.warned);
        CHECK(file.format == dialect.format);
        CAPTURE(file.assumptions);
        CHECK(has_assumption(file, dialect.decision));
        REQUIRE(file.samples.size() == 2);
        CHECK(file.samples[0].name.starts_with("TCS01"));
        CHECK(file.samples[1].name.starts_with("TCS09"));
        check_is_test_colour(file.samples[0], "TCS01");
        check_is_test_colour(file.samples[1], "TCS09");
    }
}

TEST_CASE("line ends of other systems and a byte order mark have no effect", "[colour][spectra]") {
    for (const Dialect& dialect : dialects()) {
        INFO(dialect.file);
        const std::string text = format_text(dialect.file);
        for (const std::string& other : {replace_all(text, "\n", "\r\n"), "\xEF\xBB\xBF" + text}) {
            const MeasuredFile file = read_good(other, dialect.file, dialect.warned);
            REQUIRE(file.samples.size() == 2);
            check_is_test_colour(file.samples[0], "TCS01");
            check_is_test_colour(file.samples[1], "TCS09");
        }
    }
}

TEST_CASE("geometry, backing and thickness are read if the file has them", "[colour][spectra]") {
    const MeasuredFile cgats = read_good(format_text("min_spectral_nm_fraction.txt"), "x");
    CHECK(cgats.samples[0].geometry == "sphere, specular included");
    CHECK(cgats.samples[0].backing == "black");
    const MeasuredFile later = read_good(format_text("several_tables.txt"), "x", true);
    CHECK(later.samples[1].geometry == "45/0");  // said once, above the first table
    CHECK(later.samples[1].backing == "white");
    const MeasuredFile cxf = read_good(format_text("min_reflectance_10nm.cxf"), "x");
    CHECK(cxf.samples[1].geometry == "sphere, specular included");
    CHECK(cxf.samples[1].backing == "black");
    CHECK_FALSE(cxf.samples[1].bandpass_corrected);
    const MeasuredFile csv = read_good(format_text("rows_comma.csv"), "x");
    CHECK(csv.samples[0].thickness == Micrometres{40});
    CHECK(csv.samples[1].backing == "white");
    CHECK_FALSE(csv.samples[1].thickness);
}

TEST_CASE("wavelengths that are not integers come from the header", "[colour][spectra]") {
    const MeasuredFile file = read_good(format_text("third_steps.sp"), "third_steps.sp");
    CHECK(has_assumption(file, "every 3.333 nm from 400 to 700"));
    CHECK(has_assumption(file, "a perfect white is 100"));
    REQUIRE(file.samples.size() == 2);
    CHECK(file.samples[0].name == "sample 1");
    const std::vector<double> expected = test_colour("TCS09");
    for (std::size_t i = 0; i < 91; ++i) {
        CHECK(file.samples[1].wavelengths_nm[i] == Approx(400 + static_cast<double>(i) / 0.3).epsilon(1e-14));
        if (i % 3 == 0) CHECK(std::abs(file.samples[1].values[i] - expected[i / 3]) < 1e-15);
    }
    const ReadSpectra shifted =
        read_spectra(replace_all(format_text("third_steps.sp"), "START_NM \"400.0\"", "START_NM \"401.0\""));
    CHECK_FALSE(shifted.file);
}

TEST_CASE("points of a custom spectrum are sorted and duplicates count once", "[colour][spectra]") {
    const MeasuredFile file = read_good(format_text("custom_points.cxf"), "custom_points.cxf");
    REQUIRE(file.samples.size() == 1);
    const MeasuredSample& sample = file.samples[0];
    check_is_test_colour(sample, "TCS01");
    CHECK(sample.name == "TCS01 & film");
    CHECK(sample.geometry == "45:0");
    CHECK(sample.backing == "white");
    CHECK(sample.bandpass_corrected == true);
    REQUIRE(sample.thickness);
    CHECK(sample.thickness->value == Approx(50.8).epsilon(1e-12));
    CHECK(has_assumption(file, "1 object has no reflectance spectrum"));
}

TEST_CASE("a multi-angle file gives one sample per angle, above white near the specular direction",
          "[colour][spectra]") {
    const MeasuredFile file = read_good(format_text("min_multiangle.cxf"), "min_multiangle.cxf");
    REQUIRE(file.samples.size() == 3);
    CHECK(file.samples[0].name == "metallic 45as-15");
    CHECK(file.samples[0].aspecular_deg == -15.0);
    CHECK(file.samples[1].aspecular_deg == 15.0);
    CHECK(file.samples[2].aspecular_deg == 110.0);
    CHECK(file.samples[0].values == std::vector<double>{1.10, 1.12, 1.15, 1.20});
    CHECK(file.samples[2].values == std::vector<double>{0.08, 0.08, 0.09, 0.09});
    CHECK(file.samples[2].wavelengths_nm == std::vector<double>{400, 500, 600, 700});
}

TEST_CASE("two columns without a header are one spectrum", "[colour][spectra]") {
    const MeasuredFile file = read_good(format_text("two_columns.csv"), "two_columns.csv");
    REQUIRE(file.samples.size() == 1);
    check_is_test_colour(file.samples[0], "TCS01");
}

TEST_CASE("names in Latin-1 become UTF-8", "[colour][spectra]") {
    const MeasuredFile file = read_good(
        replace_all(format_text("two_columns.csv").insert(0, "nm,gr\xFCn\n"), "x", "x"), "latin.csv");
    CHECK(file.samples[0].name == "gr\xC3\xBCn");
}

// The file is from the Debian package colord-data; its test colours are at 5 nm and rounded to two or three
// places.
TEST_CASE("the test colours of another program are the same", "[colour][spectra][peer]") {
    const MeasuredFile file = read_good(text_of("/usr/share/colord/ref/CIE-TCS.sp"), "CIE-TCS.sp");
    REQUIRE(file.samples.size() == 15);
    CHECK(file.samples[13].name == "TCS14");
    for (std::size_t k = 0; k < 14; ++k) {
        const MeasuredSample& sample = file.samples[k];
        const std::string column = (k < 9 ? "TCS0" : "TCS") + std::to_string(k + 1);
        REQUIRE(sample.wavelengths_nm.front() == 360);
        REQUIRE(sample.values.size() == 95);
        for (const auto& row : test::published_rows("cie_test_colours.csv")) {
            const auto i = static_cast<std::size_t>((row.number("nm") - 360) / 5);
            CAPTURE(column, row.number("nm"));
            CHECK(std::abs(sample.values[i] - row.number(column)) < 1e-15);
        }
    }
}

// The files are from the Debian package argyll-ref: lights and a transmittance.
TEST_CASE("the lights of another program are read, and values that are not reflectances are not",
          "[colour][spectra][peer]") {
    std::set<std::string> read, refused;
    for (const auto& entry : std::filesystem::directory_iterator("/usr/share/color/argyll/ref")) {
        if (entry.path().extension() != ".sp") continue;
        const std::string name = entry.path().filename().string();
        const ReadSpectra found = read_spectra(text_of(entry.path().string()), name);
        INFO(name << "\n" << to_text(found.diagnostics));
        (found.file ? read : refused).insert(name);
        CHECK(found.diagnostics.has_errors() == !found.file.has_value());
        if (found.file) {
            CHECK(found.file->samples.size() == 1);
            CHECK(found.file->samples.front().values.size() >= 36);
        }
    }
    CHECK(read.size() >= 20);
    CHECK(refused == std::set<std::string>{"example121.sp"});  // values up to 47 times its white
    const ReadSpectra lens = read_spectra(text_of("/usr/share/color/argyll/ref/SOtele.sp"));
    REQUIRE(lens.file);
    CHECK(lens.file->samples.front().measurement == Measurement::transmittance);
    CHECK(lens.file->samples.front().values.size() == 36);
    const ReadSpectra booth = read_spectra(text_of("/usr/share/color/argyll/ref/GTIPlus.sp"));
    REQUIRE(booth.file);  // its header tells of 80 bands and its fields are 40: the names stand
    CHECK(booth.file->samples.front().wavelengths_nm[1] == 350);
    CHECK(booth.diagnostics.sorted_list().size() >= 1);
}

TEST_CASE("a measured sample on the program's bands has the colour of its spectrum", "[colour][spectra]") {
    const TristimulusWeights weights =
        tristimulus_weights(standard_illuminant(StandardIlluminant::D65), Observer::ten_degree);
    const MeasuredFile file = read_good(format_text("argyll_percent.ti3"), "x");
    const MeasuredFile same = read_good(format_text("min_reflectance_10nm.cxf"), "x");
    for (std::size_t i = 0; i < 2; ++i) {
        const Lab a = to_lab(to_xyz(resample_to_bands(file.samples[i]), weights), weights.white);
        const Lab b = to_lab(to_xyz(resample_to_bands(same.samples[i]), weights), weights.white);
        CHECK(delta_e_2000(a, b) < 1e-10);
    }
}
