// The command spectra: colours of measured files, their differences, assumptions and errors.

#include "fadewright/app/commands.h"
#include "fadewright/colour/delta_e.h"
#include "fadewright/colour/illuminant.h"
#include "published_table.h"
#include "run_command.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>

namespace {

using namespace fadewright;

std::string format_path(const std::string& name) {
    return test::source_path("tests/published/formats/" + name);
}

app::SpectraRequest request(std::vector<std::string> files, bool json = false) {
    app::SpectraRequest r;
    r.files = std::move(files);
    r.json = json;
    return r;
}

nlohmann::json json_of(const app::SpectraRequest& r) {
    const app::Outcome outcome = test::run(app::spectra, r);
    INFO(outcome.err);
    REQUIRE(outcome.exit == app::Exit::ok);
    return nlohmann::json::parse(outcome.out);
}

std::string written(const std::string& name, const std::string& text) {
    const std::string path = test::scratch_path(name);
    std::ofstream(path, std::ios::binary) << text;
    return path;
}

// XYZ of a test colour by the table's own weights, folded onto 400 to 700 nm.
std::array<double, 3> xyz_by_table(const std::string& column, const std::string& light,
                                   const std::string& observer) {
    const auto colours = test::published_rows("cie_test_colours.csv");
    std::array<double, 3> xyz{};
    std::size_t rows = 0;
    for (const auto& row : test::published_rows("weights_e2022_10nm.csv")) {
        if (row.text("light") != light || row.text("observer") != observer) continue;
        const double nm = std::min(std::max(row.number("nm"), 400.0), 700.0);
        for (const auto& colour : colours)
            if (colour.number("nm") == nm) {
                const char* columns[] = {"X", "Y", "Z"};
                for (std::size_t c = 0; c < 3; ++c) xyz[c] += row.number(columns[c]) * colour.number(column);
                ++rows;
            }
    }
    REQUIRE(rows == 36);
    return xyz;
}

}  // namespace

TEST_CASE("spectra gives the colours of the published weights", "[app][spectra]") {
    app::SpectraRequest r = request({format_path("min_reflectance_10nm.cxf")}, true);
    for (const std::string observer : {"2", "10"}) {
        r.observer = observer == "2" ? colour::Observer::two_degree : colour::Observer::ten_degree;
        const nlohmann::json json = json_of(r);
        CHECK(json["observer"] == std::stoi(observer));
        for (std::size_t i = 0; i < 2; ++i) {
            const std::string column = i == 0 ? "TCS01" : "TCS09";
            const auto wanted = xyz_by_table(column, "D65", observer);
            const auto& sample = json["files"][0]["samples"][i];
            CHECK(sample["name"] == column);
            // Between our weights and the table's: 0.0015 in a band; see colour/illuminant.h.
            for (std::size_t c = 0; c < 3; ++c)
                CHECK(std::abs(sample["xyz"][c].get<double>() - wanted[c]) < 0.01);
        }
    }
}

TEST_CASE("spectra lists assumptions and the difference of every sample from the first", "[app][spectra]") {
    const nlohmann::json json =
        json_of(request({format_path("argyll_percent.ti3"), format_path("rows_comma.csv")}, true));
    REQUIRE(json["files"].size() == 2);
    CHECK(json["files"][0]["format"] == "CGATS text");
    CHECK(json["files"][0]["decisions"][0].get<std::string>().find("per cent") != std::string::npos);
    CHECK(json["files"][0]["samples"][0]["dE00"].is_null());
    const auto& lab1 = json["files"][0]["samples"][0]["lab"];
    const auto& lab2 = json["files"][0]["samples"][1]["lab"];
    const double expected = colour::delta_e_2000({lab1[0], lab1[1], lab1[2]}, {lab2[0], lab2[1], lab2[2]});
    CHECK(expected > 20);
    CHECK(json["files"][0]["samples"][1]["dE00"].get<double>() == Approx(expected));
    CHECK(json["files"][1]["samples"][0]["dE00"].get<double>() < 1e-9);  // the same colour in another file
    CHECK(json["files"][1]["samples"][0]["thickness_um"] == 40);
    CHECK(json["files"][1]["samples"][1]["backing"] == "white");
    CHECK(json["files"][1]["samples"][0]["values"].size() == 31);
}

TEST_CASE("against a file, every sample is compared with that file's first", "[app][spectra]") {
    app::SpectraRequest r = request({format_path("argyll_percent.ti3")}, true);
    r.against = format_path("two_columns.csv");
    const nlohmann::json json = json_of(r);
    CHECK(json["compared_with"]["sample"] == "sample 1");
    CHECK(json["files"].size() == 1);
    CHECK(json["files"][0]["samples"][0]["dE00"].get<double>() < 1e-9);
    CHECK(json["files"][0]["samples"][1]["dE00"].get<double>() > 20);
}

TEST_CASE("as text, spectra lists assumptions and colours of the samples", "[app][spectra]") {
    app::SpectraRequest r = request({format_path("min_multiangle.cxf")});
    r.light = "incandescent";
    const app::Outcome outcome = test::run(app::spectra, r);
    INFO(outcome.out << outcome.err);
    REQUIRE(outcome.exit == app::Exit::ok);
    CHECK(outcome.err.empty());
    for (const char* words : {"CxF3, 3 spectra", "values are fractions", "Incandescent (A), 10° observer",
                              "metallic 45as110", "110° aspecular", "400 to 700 nm in 4 bands"})
        CHECK(outcome.out.find(words) != std::string::npos);
}

TEST_CASE("spectra reports the errors of all files and prints no result", "[app][spectra]") {
    const std::string first = written("wrong-one.csv", "name,400,550,700\na,0.1,0.2\n");
    const std::string second = written("wrong-two.csv", "name,400,550,700\na,0.1,x,0.2\n");
    const app::Outcome outcome =
        test::run(app::spectra, request({first, format_path("two_columns.csv"), second}));
    CHECK(outcome.exit == app::Exit::data_error);
    CHECK(outcome.out.empty());
    CHECK(outcome.err.find(first + ":2:1: error:") != std::string::npos);
    CHECK(outcome.err.find(second + ":2:7: error:") != std::string::npos);
    const app::Outcome json = test::run(app::spectra, request({first}, true));
    CHECK(nlohmann::json::parse(json.out).at(0).at("rule") == "R006");
}

TEST_CASE("spectra prints warnings beside the result", "[app][spectra]") {
    const app::Outcome outcome = test::run(app::spectra, request({format_path("several_tables.txt")}));
    CHECK(outcome.exit == app::Exit::ok);
    CHECK(outcome.err.find("[R002]") != std::string::npos);
    CHECK(outcome.out.find("table 1 of 2 has no spectra and is ignored") != std::string::npos);
}

TEST_CASE("a missing file and an unknown light are errors", "[app][spectra]") {
    CHECK(test::run(app::spectra, request({test::scratch_path("not-there.cxf")})).exit ==
          app::Exit::system_error);
    app::SpectraRequest r = request({format_path("two_columns.csv")});
    r.light = "moon";
    const app::Outcome outcome = test::run(app::spectra, r);
    CHECK(outcome.exit == app::Exit::usage_error);
    CHECK(outcome.err.find("no light is called 'moon'") != std::string::npos);
}
