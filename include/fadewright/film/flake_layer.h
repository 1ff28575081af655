// Flakes as a pigment: their absorption and scattering in a film, and their number.
//
// For diffuse light a flake acts like any other pigment. A nearly flat flake is hit as often by oblique light
// as by light along the normal, m times per micrometre, so that
//
//     m       platelet hits per micrometre of dry film = volume share of flakes / thickness of one
//     R, T    reflectance and transmittance for diffuse light: integral of R(angle) sin(2 angle)
//     S       m R + edges,   K  m (1 - R - T)
//     edges   scattering of rims and fragments, e (550 nm / wavelength)^p
//
//     share of the dry film   v = (g / density) / (g / density + solids of a litre of paint),  g grams in it
//     flakes over an area     m X / (pi/4 size^2),  X the dry film
//
// Source: own derivation from [kubelka1931] (K and S); teaspoon of 5 ml: common practice, no source.
// Holds for  flakes tilted by less than about 15 degrees: for diffuse light they then act as if flat, none on
//            edge; random positions (Poisson); edge scatter given by the paint, since it depends on how the
//            flakes were made
// Checks     tests/film/flake_layer_test.cpp
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/colour/spectrum.h"
#include "fadewright/paint/effect_pigment.h"

namespace fadewright::film {

// For diffuse light.
struct FlakeMeans {
    colour::Reflectance reflected;
    colour::Reflectance transmitted;
};
[[nodiscard]] FlakeMeans diffuse_means(const paint::FlakeOpticsTable& optics) noexcept;

struct EdgeScatter {
    PerMicrometre at_550_nm{0};  // of the dry film with its flakes
    double power = 1;            // rims: between 0 (coarse) and 4 (finer than light)
};

struct FlakeCoefficients {
    colour::Absorption K;
    colour::Scattering S;
};
[[nodiscard]] FlakeCoefficients diffuse_coefficients(const paint::EffectPigment& flakes,
                                                     EdgeScatter edges = {});

// Grams stirred into a litre of paint that has these solids before the flakes are added.
[[nodiscard]] Share flake_share(GramsPerLitre flakes_added, GramsPerMillilitre flake_density,
                                Share paint_solids);

// The inverse: grams to stir in for this share of the dry film (below 1).
[[nodiscard]] GramsPerLitre flakes_to_add(Share of_dry_film, GramsPerMillilitre flake_density,
                                          Share paint_solids);

[[nodiscard]] double platelet_hits_per_um(Share of_dry_film, Micrometres flake_thickness);

[[nodiscard]] double flakes_per_cm2(const paint::EffectPigment& flakes, Micrometres film);

// Level spoons of dry powder of this bulk density.
inline constexpr Millilitres kTeaspoon{5};
[[nodiscard]] Grams weight_of_spoons(double level_spoons, GramsPerMillilitre bulk_density,
                                     Millilitres spoon = kTeaspoon) noexcept;

}  // namespace fadewright::film
