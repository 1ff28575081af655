// Wrong files of spectra: one or more per rule, each with the position of the error and a hint.

#include "published_table.h"
#include "read_spectra.h"

#include <catch2/catch.hpp>
#include <fstream>
#include <set>
#include <sstream>

namespace {

using namespace fadewright;
using test::read_spectra;

std::string format_text(const std::string& name) {
    std::ifstream in(test::source_path("tests/published/formats/" + name), std::ios::binary);
    REQUIRE(in.good());
    std::ostringstream out;
    out << in.rdbuf();
    return out.str();
}

// The first occurrence only.
std::string replace_text(const std::string& file, const std::string& from, const std::string& to) {
    std::string text = format_text(file);
    const std::size_t at = text.find(from);
    INFO(file << ": " << from);
    REQUIRE(at != std::string::npos);
    return text.replace(at, from.size(), to);
}

struct Wrong {
    std::string rule;
    std::string position;  // "line:column"
    std::string text;
    bool readable = false;  // a warning: the spectra are read
};

std::string small_table(const std::string& fields, const std::string& rows, const std::string& head = "") {
    return "CGATS.17\n" + head + "BEGIN_DATA_FORMAT\n" + fields + "\nEND_DATA_FORMAT\nBEGIN_DATA\n" + rows +
           "END_DATA\n";
}

constexpr const char* kNm = "min_spectral_nm_fraction.txt";
constexpr const char* kCxf = "min_reflectance_10nm.cxf";

std::vector<Wrong> cgats_files() {
    return {
        {"R002", "3:17",
         replace_text(kNm, "FILE_DESCRIPTOR\t\"TCS01 TCS09\"", "FILE_DESCRIPTOR\t\"TCS01 TCS09"), true},
        {"R003", "48:1", replace_text(kNm, "BEGIN_DATA\n", "BEGIN_DAT\n"), false},
        {"R003", "45:1", replace_text(kNm, "END_DATA\n", ""), false},
        {"R003", "43:1", replace_text(kNm, "END_DATA_FORMAT", "END_DATA"), false},
        {"R004", "40:1", replace_text(kNm, "FIELDS\t33", "FIELDS\t32"), false},
        {"R005", "44:1", replace_text(kNm, "SETS\t2", "SETS\t3"), false},
        {"R006", "46:1", replace_text(kNm, "\"TCS01\"\t0.26", "\"TCS01\"\t0.2 6"), false},
        {"R006", "6:1", small_table("SPEC_400 SPEC_500 SPEC_700", "0.1 0.2\n"), false},
        {"R007", "3:10", small_table("SPEC_400 SPEC_5O0 SPEC_700", "0.1 0.2 0.3\n"), false},
        {"R007", "3:10", small_table("SPEC_400 LAB_L SPEC_700", "0.1 0.2 0.3\n"), false},
        {"R007", "3:1", small_table("NM4O0 NM500 NM700", "0.1 0.2 0.3\n"), false},
        {"R007", "3:1", small_table("SPECTRAL_PCT SPECTRAL_NM", "10 500\n"), false},
        {"R007", "3:14", small_table("SPECTRAL_400 SPECTRAL_500_PCT SPECTRAL_700", "1 2 3\n"), false},
        {"R008", "3:19", small_table("SPEC_400 SPEC_500 SPEC_7000", "0.1 0.2 0.3\n"), false},
        {"R009", "3:19", small_table("SPEC_400 SPEC_500 SPEC_450", "0.1 0.2 0.3\n"), false},
        {"R010", "3:28", small_table("SPEC_400 SPEC_500 SPEC_600 SPEC_650", "0.1 0.2 0.3 0.3\n"), true},
        {"R011", "6:5", small_table("SPEC_400 SPEC_500 SPEC_700", "0.1 0.2x 0.3\n"), false},
        {"R011", "6:5", small_table("SPEC_400 SPEC_500 SPEC_700", "0.1 nan 0.3\n"), false},
        {"R012", "7:9", small_table("SPEC_400 SPEC_500 SPEC_700", "0.1 0.2 5\n", "SPECTRAL_NORM 1\n"), false},
        {"R012", "6:9", small_table("SPEC_400 SPEC_500 SPEC_700", "0.1 0.2 -0.2\n"), false},
        {"R013", "2:1", small_table("SPEC_400 SPEC_500 SPEC_700", "0.1 0.2 0.3\n", "SPECTRAL_NORM 10\n"),
         true},
        {"R013", "6:9", small_table("SPEC_400 SPEC_500 SPEC_700", "0.1 0.2 26\n"), false},
        {"R013", "6:9", small_table("SPEC_400 SPEC_500 SPEC_700", "0.1 0.2 1.5\n"), true},
        {"R013", "6:5", small_table("SPEC_400 SPEC_500 SPEC_700", "2.1 3.2 2.9\n"), true},
        {"R013", "7:1", small_table("SPEC_400 SPEC_500 SPEC_700", "0.1 0.2 0.3\n", "QUANTITY percent\n"),
         true},
        {"R014", "2:1",
         small_table("SPEC_400 SPEC_500 SPEC_600 SPEC_700", "0.1 0.2 0.3 0.3\n",
                     "SPECTRAL_BANDS 3\nSPECTRAL_START_NM 400\nSPECTRAL_END_NM 700\n"),
         true},
        {"R014", "3:1",
         small_table("SPEC_400 SPEC_500 SPEC_700", "1 2 3\n", "NUMBER_OF_SETS 1\nNUMBER_OF_SETS 2\n"), false},
        {"R020", "1:1", small_table("SAMPLE_ID LAB_L", "1 50\n"), false},
        {"R025", "7:1", small_table("SPEC_400 SPEC_500 SPEC_700", "0.1 0.2 0.3\n", "MEAS_TYPE EMISSION\n"),
         true},
        {"R026", "6:1", small_table("SPEC_400 SPEC_500 SPEC_600", "0.1 0.2 0.3\n"), true}};
}

std::vector<Wrong> cxf_files() {
    return {{"R015", "34:3", replace_text(kCxf, "</cc:CxF>", "</cc:CXF>"), false},
            {"R015", "1:1", replace_text(kCxf, "<cc:CxF", "<!DOCTYPE CxF [<!ENTITY a \"0.26\">]>\n<cc:CxF"),
             false},
            {"R016", "2:2", replace_text(kCxf, "CxF3-core", "CxF2-core"), false},
            {"R017", "13:12", replace_text(kCxf, "ColorSpecification=\"cs1\"", "ColorSpecification=\"cs2\""),
             false},
            {"R017", "13:12", replace_text(kCxf, "ColorSpecification=\"cs1\" ", ""), false},
            {"R018", "13:12", replace_text(kCxf, " Increment=\"10\"", ""), false},
            {"R018", "28:12", replace_text(kCxf, " Increment=\"10\"", " Increment=\"1O\""), false},
            {"R018", "13:12", replace_text(kCxf, "StartWL=\"400\"", "StartWL=\"410\""), true},
            {"R011", "13:79", replace_text(kCxf, "0.26 0.25", "0.26 &a;"), false},
            {"R012", "13:79", replace_text(kCxf, "0.26 0.25", "0.26 25"), false},
            {"R019", "19:12", replace_text(kCxf, "0.052 0.051", "0.052"), false},
            {"R024", "46:32", replace_text("custom_points.cxf", "Units=\"mil\"", "Units=\"bags\""), true},
            {"R009", "41:14", replace_text("custom_points.cxf", "WL=\"430\">0.24", "WL=\"430\">0.25"), false},
            {"R020", "1:1", "<CxF xmlns=\"http://colorexchangeformat.com/CxF3-core\"/>", false}};
}

std::vector<Wrong> csv_files() {
    return {{"R001", "1:1", "to whom it may concern\n", false},
            {"R001", "1:1", std::string("nm,R\n400,\0", 10), false},
            {"R002", "2:1", "name,400,500,700\n\"a,0.1,0.2,0.3\n", false},
            {"R006", "2:1", "name,400,500,700\na,0.1,0.2\n", false},
            {"R009", "3:1", "nm,a\n400,0.1\n400,0.2\n700,0.3\n", false},
            {"R011", "2:7", "name,400,500,700\na,0.1,,0.3\n", false},
            {"R020", "1:1", "", false},
            {"R021", "1:1", "flavour,400,500,700\na,0.1,0.2,0.3\n", false},
            {"R021", "1:10", "name,400,5OO,700\na,0.1,0.2,0.3\n", false},
            {"R022", "3:5", "nm;a\n400;0,1\n500;0.2\n700;0,3\n", false},
            {"R027", "4:5", "nm,a\n400,0.1\n500,0.2\n600,0.3", true},
            {"R023", "1:1", "nm,a\n" + std::string(5u << 20, '#'), false}};
}

}  // namespace

TEST_CASE("every wrong file of spectra gives an error or a warning with its position and a hint",
          "[colour][spectra]") {
    std::set<std::string> reported;
    for (const auto& files : {cgats_files(), cxf_files(), csv_files()})
        for (const Wrong& wrong : files) {
            const test::ReadSpectra read = read_spectra(wrong.text, "file");
            INFO(wrong.rule << " at " << wrong.position << "\n" << to_text(read.diagnostics));
            CHECK(read.file.has_value() == wrong.readable);
            CHECK(read.diagnostics.has_errors() != wrong.readable);
            bool found = false;
            for (const Diagnostic& d : read.diagnostics.sorted_list()) {
                CHECK_FALSE(d.hint.empty());
                REQUIRE(d.span.source);
                const auto at = d.span.source->position(d.span.begin);
                found = found || (d.rule == wrong.rule && wrong.position == std::to_string(at.line) + ":" +
                                                                                std::to_string(at.column));
            }
            CHECK(found);
            reported.insert(wrong.rule);
        }
    std::set<std::string> listed;
    for (const Rule& rule : measured::measured_rules()) listed.emplace(rule.id);
    CHECK(listed.size() == measured::measured_rules().size());
    CHECK(reported == listed);
}
