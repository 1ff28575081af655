// One film in one wavelength band: reflectance and transmittance (Kubelka-Munk). Start reading the film layer
// here.
//
//     one film      layer.h, surface.h (boundary to air), hiding.h (hiding, K and S from a chart)
//     coats         stack.h (all bands), stack_colour.h (with derivatives), mid_colours.h (three mid colours)
//     dry spray     dots.h, graininess.h
//     colour        colorimeter.h, multi_angle.h, drawdown.h
//     paints        drawdown.h, ks_fit.h, film_from_colour.h, mix_evaluator.h, match.h
//     flakes        thin_film.h, flake_materials.h, flake.h, flake_geometry.h, flake_layer.h,
//                   flake_reflection.h, wet_flakes.h, sparkle.h
//
// Diffuse light goes down and up through the film. Each micrometre absorbs the share K and scatters back the
// share S. With X the film in micrometres and R_g the ground:
//
//     a = 1 + K/S,  b = sqrt(a^2 - 1)
//     R0 = sinh(bSX) / (a sinh(bSX) + b cosh(bSX))        over perfect black
//     T  = b / (a sinh(bSX) + b cosh(bSX))
//     R  = R0 + T^2 R_g / (1 - R0 R_g)                     over the ground
//     R_inf = a - b                                        masstone: full hiding
//
// and for layer 1 on top of layer 2
//
//     R0_12 = R0_1 + T_1^2 R0_2 / (1 - R0_1 R0_2),   T_12 = T_1 T_2 / (1 - R0_1 R0_2).
//
// All reflectances here are inside the film, without the surface (film/surface.h).
//
// Source: [kubelka1931], [kubelka1948], [kubelka1954].
// Holds for  K, S, X >= 0 and finite, S = 0 and K = 0 included; effective K and S, diffuse light, no flakes
// Accuracy   1e-12 relative against 50-digit arithmetic; no loss of digits for K/S down to 0
// Checks     tests/film/layer_test.cpp, tests/published/km_layer.csv
#pragma once

#include "fadewright/kernels/layer_stack.h"

namespace fadewright::film {

using Layer = kernels::TwoFlux;  // R0, T

// K and S per micrometre with X in micrometres, or any other pair of inverse units.
[[nodiscard]] Layer layer(double K, double S, double X) noexcept;

// The layer over a ground of reflectance R_g.
[[nodiscard]] double reflectance_over(Layer coat, double R_g) noexcept;

// R_inf; 0 for a film that neither absorbs nor scatters, since it returns no light.
[[nodiscard]] double r_infinity(double K, double S) noexcept;

// K/S of the film of masstone R_inf (0 < R_inf <= 1).
[[nodiscard]] double ks_ratio(double R_inf) noexcept;

// Two layers as one, viewed from the top. The top layer must be homogeneous (one paint); the bottom one may
// itself be combined, so a stack is built from the bottom up. The order matters.
[[nodiscard]] Layer combine(Layer top, Layer bottom) noexcept;

}  // namespace fadewright::film
