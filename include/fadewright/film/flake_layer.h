// Flakes as paint: what they add to a film's absorption and scattering, and how many of them there are.
//
// Diffuse light goes through a film the same whether it meets a pigment or a flake. A flake lying nearly
// flat is met as often by slanting light as by upright, m times per micrometre, so that
//
//     m       crossings per micrometre of dry film = volume share of flakes / thickness of one
//     R, T    shares sent back and let through, mean over diffuse light: integral of R(angle) sin(2 angle)
//     S       m R + edges,   K  m (1 - R - T)
//     edges   scattering of rims and broken bits, e (550 nm / wavelength)^p
//
//     share of the dry film   v = (g / density) / (g / density + solids of a litre of paint),  g grams in it
//     flakes over an area     m X / (pi/4 size^2),  X the dry film
//
// Source     film/layer.h for K and S; derived here. Teaspoon 5 ml (common practice, no source)
// Holds for  flakes tilted by less than some 15 degrees: diffuse light then meets them as if they lay flat,
//            and none stands edge on; places of flakes random (Poisson); edges given by the paint, since
//            they depend on how the flakes were made
// Checks     tests/film/flake_layer_test.cpp
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/colour/spectrum.h"
#include "fadewright/paint/effect_pigment.h"

namespace fadewright::film {

// Shares of diffuse light.
struct FlakeMeans {
    colour::Reflectance reflected;
    colour::Reflectance transmitted;
};
[[nodiscard]] FlakeMeans diffuse_means(const paint::FlakeOpticsTable& mirror) noexcept;

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

// Grams stirred into a litre of paint that has these solids without them.
[[nodiscard]] Share flake_share(GramsPerLitre flakes_added, GramsPerMillilitre flake_density,
                                Share paint_solids);

// And back: what to stir in for so much of the dry film (below 1).
[[nodiscard]] GramsPerLitre flakes_to_add(Share of_dry_film, GramsPerMillilitre flake_density,
                                          Share paint_solids);

[[nodiscard]] double platelet_hits_per_um(Share of_dry_film, Micrometres flake_thickness);

[[nodiscard]] double flakes_per_cm2(const paint::EffectPigment& flakes, Micrometres film);

// Level spoons of dry powder that weighs so much as it lies.
inline constexpr Millilitres kTeaspoon{5};
[[nodiscard]] Grams weight_of_spoons(double level_spoons, GramsPerMillilitre bulk_density,
                                     Millilitres spoon = kTeaspoon) noexcept;

}  // namespace fadewright::film
