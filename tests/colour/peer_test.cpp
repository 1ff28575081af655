// XYZ and Lab against an independent program, argyll's spec2cie, run on the same spectra. The program must be
// installed: without it these tests fail.

#include "fadewright/colour/delta_e.h"
#include "fadewright/colour/illuminant.h"
#include "published_table.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <iomanip>
#include <sstream>
#include <string>
#include <vector>

using namespace fadewright::colour;

namespace {

// The first is the perfect white, the others the CIE's test colour samples.
std::vector<Reflectance> samples() {
    constexpr int kSamples = 14;
    const auto rows = fadewright::test::published_rows("cie_test_colours.csv");
    REQUIRE(rows.size() == kBandCount);
    std::vector<Reflectance> all{Reflectance::constant(1)};
    for (int sample = 1; sample <= kSamples; ++sample) {
        const std::string column = (sample < 10 ? "TCS0" : "TCS") + std::to_string(sample);
        Reflectance R;
        for (std::size_t band = 0; band < kBandCount; ++band) {
            REQUIRE(rows[band].number("nm") == band_nm(band));
            R[band] = rows[band].number(column);
        }
        all.push_back(R);
    }
    return all;
}

// The peer reads spectra in percent, with a decimal point in every number.
void write_ti3(const std::string& path, const std::vector<Reflectance>& spectra) {
    std::ofstream out(path);
    out << std::fixed << std::setprecision(4);
    out << "CTI3\n\nDESCRIPTOR \"spectra\"\nORIGINATOR \"test\"\nDEVICE_CLASS \"OUTPUT\"\nCOLOR_REP "
           "\"iRGB\"\n"
        << "SPECTRAL_BANDS \"" << kBandCount << "\"\nSPECTRAL_START_NM \"" << kFirstBand_nm
        << "\"\nSPECTRAL_END_NM \"" << kLastBand_nm << "\"\nSPECTRAL_NORM \"100.0\"\n\nNUMBER_OF_FIELDS "
        << kBandCount + 4 << "\nBEGIN_DATA_FORMAT\nSAMPLE_ID RGB_R RGB_G RGB_B";
    for (std::size_t band = 0; band < kBandCount; ++band) out << " SPEC_" << static_cast<int>(band_nm(band));
    out << "\nEND_DATA_FORMAT\n\nNUMBER_OF_SETS " << spectra.size() << "\nBEGIN_DATA\n";
    for (std::size_t i = 0; i < spectra.size(); ++i) {
        out << i + 1 << " 0.0 0.0 0.0";
        for (double R : spectra[i].values) out << ' ' << 100 * R;
        out << '\n';
    }
    out << "END_DATA\n";
    REQUIRE(out.good());
}

std::vector<XYZ> read_ti3(const std::string& path) {
    std::ifstream in(path);
    std::vector<std::string> names;
    std::string word;
    while (in >> word && word != "BEGIN_DATA_FORMAT") {
    }
    while (in >> word && word != "END_DATA_FORMAT") names.push_back(word);
    const auto first = std::find(names.begin(), names.end(), "XYZ_X");
    REQUIRE(first != names.end());
    const auto at = static_cast<std::size_t>(first - names.begin());
    while (in >> word && word != "BEGIN_DATA") {
    }
    std::vector<XYZ> out;
    std::vector<std::string> cells;
    while (in >> word && word != "END_DATA") {
        cells.push_back(word);
        if (cells.size() < names.size()) continue;
        out.push_back({std::stod(cells[at]), std::stod(cells[at + 1]), std::stod(cells[at + 2])});
        cells.clear();
    }
    return out;
}

std::vector<XYZ> peer_xyz(const std::string& light, const std::string& observer,
                          const std::vector<Reflectance>& spectra) {
    const std::string name = "peer-" + light + "-" + observer;
    const std::string in = fadewright::test::scratch_path(name + "-in.ti3");
    const std::string out = fadewright::test::scratch_path(name + "-out.ti3");
    std::remove(out.c_str());
    write_ti3(in, spectra);
    const std::string command = "spec2cie -n -i " + light + " -o " + observer + " '" + in + "' '" + out + "'";
    INFO("spec2cie of the package argyll is needed; ran " << command);
    REQUIRE(std::system(command.c_str()) == 0);
    return read_ti3(out);
}

void check_against_peer(StandardIlluminant light, Observer observer, const std::string& peer_light,
                        const std::string& peer_observer) {
    const std::vector<Reflectance> spectra = samples();
    const std::vector<XYZ> theirs = peer_xyz(peer_light, peer_observer, spectra);
    REQUIRE(theirs.size() == spectra.size());
    const TristimulusWeights computed = tristimulus_weights(standard_illuminant(light), observer);
    for (std::size_t i = 0; i < spectra.size(); ++i) {
        CAPTURE(i, peer_light, peer_observer);
        const XYZ ours = to_xyz(spectra[i], computed);
        // Two valid interpolations from 10 nm to 1 nm differ by up to 0.015.
        CHECK(delta_e_2000(to_lab(ours, computed.white), to_lab(theirs[i], theirs[0])) < 0.02);
        CHECK(std::abs(ours.X - theirs[i].X) < 0.03);
        CHECK(std::abs(ours.Y - theirs[i].Y) < 0.03);
        CHECK(std::abs(ours.Z - theirs[i].Z) < 0.03);
    }
}

}  // namespace

TEST_CASE("under daylight the test colours are those of an independent program", "[colour][peer]") {
    check_against_peer(StandardIlluminant::D65, Observer::two_degree, "D65", "1931_2");
    check_against_peer(StandardIlluminant::D65, Observer::ten_degree, "D65", "1964_10");
}

TEST_CASE("under incandescent light the test colours are those of an independent program", "[colour][peer]") {
    check_against_peer(StandardIlluminant::A, Observer::two_degree, "A", "1931_2");
    check_against_peer(StandardIlluminant::A, Observer::ten_degree, "A", "1964_10");
}
