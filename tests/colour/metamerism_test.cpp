#include "fadewright/colour/metamerism.h"
#include "published_table.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

namespace {

using namespace fadewright::colour;
using fadewright::test::published_rows;

constexpr std::size_t kCount = 31;  // 400 to 700 nm by 10
using Folded = std::array<std::array<double, 3>, kCount>;

// The weights of 380 to 730 nm with those beyond 400 and 700 nm added to the ends. Source: [astmE308].
Folded fold_weights(const std::string& light, const std::string& observer) {
    Folded out{};
    std::size_t rows = 0;
    for (const auto& row : published_rows("weights_e2022_10nm.csv")) {
        if (row.text("light") != light || row.text("observer") != observer) continue;
        const double band = std::clamp((row.number("nm") - 400) / 10, 0.0, double(kCount - 1));
        const char* columns[] = {"X", "Y", "Z"};
        for (std::size_t c = 0; c < 3; ++c) out[static_cast<std::size_t>(band)][c] += row.number(columns[c]);
        ++rows;
    }
    REQUIRE(rows == 36);
    return out;
}

std::vector<double> column(const std::string& name) {
    std::vector<double> values;
    for (const auto& row : published_rows("metamer_pair.csv")) values.push_back(row.number(name));
    REQUIRE(values.size() == kCount);
    return values;
}

constexpr double kPrinted = 0.5001e-4;  // the tables are printed to four places

void check_pair(const fadewright::test::Row& row, Correction correction, const std::string& name) {
    const PairDifference found =
        metamerism(column("standard_TCS08"), column(row.text("batch")), fold_weights("D65", "10"),
                   fold_weights(row.text("light"), row.text("observer")), correction);
    CAPTURE(name, row.text("batch"), row.text("light"), row.text("observer"));
    CHECK(std::abs(found.e76 - row.number(name + "_76")) < kPrinted);
    CHECK(std::abs(found.e2000 - row.number(name + "_2000")) < kPrinted);
}

}  // namespace

TEST_CASE("metamerism agrees with every printed digit, by every correction", "[colour][published_rows]") {
    const auto rows = published_rows("metamer_indices.csv");
    REQUIRE(rows.size() == 7);
    for (const auto& row : rows) {
        check_pair(row, Correction::none, "none");
        check_pair(row, Correction::multiplicative, "multiplicative");
        check_pair(row, Correction::additive, "additive");
        check_pair(row, Correction::parameric, "parameric");
    }
}

TEST_CASE("under the reference light the exact pair matches and the other differs as printed",
          "[colour][published_rows]") {
    const Folded reference = fold_weights("D65", "10");
    const auto standard = column("standard_TCS08");
    const PairDifference exact =
        metamerism(standard, column("batch_exact"), reference, reference, Correction::none);
    CHECK(exact.e76 < 1e-6);  // the pair is printed to eight places
    const auto inexact = column("batch_inexact");
    const PairDifference other = metamerism(standard, inexact, reference, reference, Correction::none);
    CHECK(std::abs(other.e76 - 1.1103) < kPrinted);    // computed by the same independent program
    CHECK(std::abs(other.e2000 - 0.9278) < kPrinted);  // as the indices
    for (const auto correction : {Correction::multiplicative, Correction::additive, Correction::parameric})
        CHECK(metamerism(standard, inexact, reference, reference, correction).e76 < 1e-10);
}

TEST_CASE("the parameric projection has trace 3 and is idempotent", "[colour][property]") {
    const Folded reference = fold_weights("D65", "10");
    const std::vector<double> zeros(kCount, 0.0);
    double trace = 0;
    for (std::size_t i = 0; i < kCount; ++i) {
        std::vector<double> unit(kCount, 0.0);
        unit[i] = 1;
        const std::vector<double> once = parameric_batch(unit, zeros, reference);  // P times the unit
        const std::vector<double> twice = parameric_batch(once, zeros, reference);
        trace += once[i];
        for (std::size_t k = 0; k < kCount; ++k) CHECK(std::abs(once[k] - twice[k]) < 1e-14);
    }
    CHECK(std::abs(trace - 3) < 1e-13);
}

TEST_CASE("a pair on the program's bands has the metamerism of its spectra on a finer grid", "[colour]") {
    const TristimulusWeights day =
        tristimulus_weights(standard_illuminant(StandardIlluminant::D65), Observer::ten_degree);
    const TristimulusWeights lamp =
        tristimulus_weights(standard_illuminant(StandardIlluminant::A), Observer::ten_degree);
    std::vector<double> nm;
    for (const auto& row : published_rows("metamer_pair.csv")) nm.push_back(row.number("nm"));
    const Reflectance standard{resample(nm, column("standard_TCS08"))};
    const Reflectance batch{resample(nm, column("batch_exact"))};
    // The program's own weights of A and D65 differ from the printed ones in the fourth digit.
    CHECK(metamerism(standard, batch, day, lamp, Correction::none).e2000 == Approx(2.3739).margin(0.002));
    CHECK(metamerism(standard, standard, day, lamp, Correction::parameric).e76 < 1e-10);
}
