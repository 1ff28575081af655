#include "fadewright/colour/spectrum.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <vector>

using namespace fadewright::colour;
using Catch::Matchers::WithinAbs;

namespace {

std::vector<double> grid(double from, double to, double step) {
    std::vector<double> nm;
    for (double w = from; w <= to; w += step) nm.push_back(w);
    return nm;
}

template <class F>
std::vector<double> values_of(const std::vector<double>& nm, F f) {
    std::vector<double> out;
    for (double w : nm) out.push_back(f(w));
    return out;
}

}  // namespace

TEST_CASE("the bands run from 380 to 730 nm by 10", "[colour]") {
    CHECK(band_nm(0) == 380);
    CHECK(band_nm(kBandCount - 1) == 730);
    CHECK(kLastBand_nm == 730);
}

TEST_CASE("data already on the bands pass through unchanged", "[colour]") {
    const auto nm = grid(380, 730, 10);
    const auto values = values_of(nm, [](double w) { return 0.5 + 0.4 * std::sin(w / 20); });
    const auto out = resample(nm, values);
    for (std::size_t band = 0; band < kBandCount; ++band)
        CHECK_THAT(out[band], WithinAbs(values[band], 1e-15));
}

TEST_CASE("linear data stay linear on any grid", "[colour]") {
    const std::vector<double> nm{350, 391, 400, 437, 520, 521.5, 600, 777};
    const auto out = resample(nm, values_of(nm, [](double w) { return w / 1000; }));
    for (std::size_t band = 0; band < kBandCount; ++band)
        CHECK_THAT(out[band], WithinAbs(band_nm(band) / 1000, 1e-14));
}

TEST_CASE("missing ends are constant at the last value", "[colour]") {
    const std::vector<double> nm{400, 500, 700};
    const auto out = resample(nm, std::vector<double>{0.2, 0.6, 0.3});
    CHECK(out[0] == 0.2);
    CHECK(out[1] == 0.2);
    CHECK(out[2] == 0.2);
    CHECK_THAT(out[12], WithinAbs(0.6, 1e-15));
    for (std::size_t band = 32; band < kBandCount; ++band) CHECK_THAT(out[band], WithinAbs(0.3, 1e-15));
}

TEST_CASE("a single value gives a flat spectrum", "[colour]") {
    const auto out = resample(std::vector<double>{550}, std::vector<double>{0.4});
    CHECK(std::all_of(out.begin(), out.end(), [](double v) { return v == 0.4; }));
}

TEST_CASE("there is no overshoot at an edge, and rising data rise", "[colour]") {
    const auto nm = grid(380, 740, 20);
    const auto out = resample(nm, values_of(nm, [](double w) { return w < 570 ? 0.04 : 0.9; }));
    for (std::size_t band = 0; band < kBandCount; ++band) {
        CHECK(out[band] >= 0.04);
        CHECK(out[band] <= 0.9);
        if (band > 0) CHECK(out[band] >= out[band - 1]);
    }
}

TEST_CASE("there is no overshoot at an asymmetric peak", "[colour]") {
    const std::vector<double> nm{380, 433, 547, 561, 730};
    const auto out = resample(nm, std::vector<double>{0.1, 0.2, 0.9, 0.5, 0.6});
    for (std::size_t band = 0; band < kBandCount; ++band) {
        const double low = band_nm(band) < 433 ? 0.1 : band_nm(band) < 547 ? 0.2 : 0.5;
        const double high = band_nm(band) < 433 ? 0.2 : band_nm(band) < 561 ? 0.9 : 0.6;
        CAPTURE(band_nm(band));
        CHECK(out[band] >= low);
        CHECK(out[band] <= high);
    }
}

TEST_CASE("a smooth spectrum at 20 nm is interpolated to 10 nm within a few thousandths", "[colour]") {
    // A pigment-like edge 60 nm wide. A monotone cubic has the largest error at the greatest curvature;
    // linear interpolation would have up to twice the error there.
    const auto edge = [](double w) { return 0.05 + 0.8 / (1 + std::exp(-(w - 560) / 15)); };
    const auto nm = grid(380, 740, 20);
    const auto out = resample(nm, values_of(nm, edge));
    double max_error = 0;
    double straight = 0;
    for (std::size_t band = 0; band < kBandCount; ++band) {
        const double w = band_nm(band);
        max_error = std::max(max_error, std::abs(out[band] - edge(w)));
        if (band % 2 == 1)
            straight = std::max(straight, std::abs((edge(w - 10) + edge(w + 10)) / 2 - edge(w)));
    }
    CAPTURE(max_error, straight);
    CHECK(max_error < 0.01);
    CHECK(max_error < straight / 2);
}
