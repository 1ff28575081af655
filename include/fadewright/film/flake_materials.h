// Materials of flakes: optical indices in the wavelength bands of the program, and densities.
//
//     rutile      n_o^2 = 5.913 + 0.2441/(L^2 - 0.0803), n_e^2 = 7.197 + 0.3322/(L^2 - 0.0843), L in um;
//                 grains are oriented at random, so n = (2 n_o + n_e) / 3
//     anatase     a dense film
//     mica        muscovite, 1.58 at all wavelengths
//     alumina     three-term formula of the ordinary ray
//     hematite    iron oxide; absorbs blue and green
//     aluminium   a metal; opaque
//
// Real oxide coats are porous. With f the share of oxide and the pores full of binder,
//
//     f (e_o - e)/(e_o + 2 e) + (1 - f)(e_p - e)/(e_p + 2 e) = 0,     e = (n - ik)^2.
//
// Source: [devore1951] (rutile); [jolivet2023], [rakic1998], [querry1985] (anatase, aluminium, hematite:
//            src/film/tables/flake_materials.csv); [malitson1962] (alumina); [bruggeman1935] (porosity); mica
//            and densities as in handbooks: common practice, no source.
// Holds for  room temperature; rutile below 430 nm is extrapolated; hematite as its ordinary ray in every
//            orientation of the grains; pores much smaller than the wavelength
// Accuracy   rutile n_o(550) 2.6479, n_e 2.9529, alumina n_o(589) 1.768 to their printed digits
// Checks     tests/film/flake_materials_test.cpp
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/colour/spectrum.h"
#include "fadewright/film/thin_film.h"

#include <array>

namespace fadewright::film {

enum class FlakeMaterial { anatase, rutile, mica, alumina, hematite, aluminium };

using IndexBands = std::array<OpticalIndex, colour::kBandCount>;

[[nodiscard]] const IndexBands& index_of(FlakeMaterial material);

[[nodiscard]] GramsPerMillilitre density_of(FlakeMaterial material) noexcept;

// Rutile along its two axes.
struct RutileIndex {
    double ordinary = 0;
    double extraordinary = 0;
};
[[nodiscard]] RutileIndex rutile_index(Nanometres wavelength) noexcept;

// porosity: share of the coat that is binder, 0 to 1.
[[nodiscard]] OpticalIndex porous_index(OpticalIndex solid, double pore_index, Share porosity);

}  // namespace fadewright::film
