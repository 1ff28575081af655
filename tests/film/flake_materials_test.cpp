#include "fadewright/film/flake_materials.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <complex>
#include <cstddef>

using namespace fadewright;
using namespace fadewright::film;
using Catch::Matchers::WithinAbs;

TEST_CASE("indices are those of their sources at 550 nm", "[film]") {
    constexpr std::size_t at550 = 17;
    // To four places. Source: [devore1951].
    CHECK_THAT(rutile_index(550_nm).ordinary, WithinAbs(2.6479, 5e-5));
    CHECK_THAT(rutile_index(550_nm).extraordinary, WithinAbs(2.9529, 5e-5));
    CHECK_THAT(index_of(FlakeMaterial::rutile)[at550].n, WithinAbs(2.7496, 5e-5));
    CHECK(index_of(FlakeMaterial::anatase)[at550] == OpticalIndex{2.5166, 0});
    CHECK(index_of(FlakeMaterial::mica)[at550] == OpticalIndex{1.58, 0});
    CHECK(index_of(FlakeMaterial::aluminium)[at550] == OpticalIndex{0.9657, 6.4581});
    CHECK(index_of(FlakeMaterial::hematite)[at550] == OpticalIndex{3.318, 0.498});
    // Sapphire at the sodium line is 1.768 (from memory); 590 nm is near enough.
    CHECK_THAT(index_of(FlakeMaterial::alumina)[21].n, WithinAbs(1.768, 5e-4));
}

TEST_CASE("all indices are finite and without gain", "[film][property]") {
    for (const auto material : {FlakeMaterial::anatase, FlakeMaterial::rutile, FlakeMaterial::mica,
                                FlakeMaterial::alumina, FlakeMaterial::hematite, FlakeMaterial::aluminium}) {
        for (const OpticalIndex& index : index_of(material)) {
            CHECK(std::isfinite(index.n));
            CHECK(index.n > 0);
            CHECK(index.k >= 0);
        }
        CHECK(density_of(material).value > 1);
    }
}

TEST_CASE("a porous coat satisfies Bruggeman's equation for its two media", "[film]") {
    const OpticalIndex iron{3.2, 0.9};
    for (const double porosity : {0.0, 0.15, 0.5, 0.9, 1.0}) {
        const OpticalIndex mean = porous_index(iron, 1.5, Share{porosity});
        const auto square = [](OpticalIndex index) {
            const std::complex<double> n{index.n, -index.k};
            return n * n;
        };
        const auto e = square(mean), oxide = square(iron);
        const std::complex<double> pore{2.25, 0};
        CAPTURE(porosity, mean.n, mean.k);
        CHECK_THAT(std::abs((1 - porosity) * (oxide - e) / (oxide + 2.0 * e) +
                            porosity * (pore - e) / (pore + 2.0 * e)),
                   WithinAbs(0, 1e-14));
        CHECK(mean.n <= 3.2);
        CHECK(mean.n >= 1.5 - 1e-12);
    }
}
