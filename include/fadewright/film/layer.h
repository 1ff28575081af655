// One film in one band: what it sends back and what it lets through. Start reading the film layer here.
//
//     layer.h    one film, one band           hiding.h   how much film hides; K and S from a card
//     skin.h     the air surface on top       stack.h    coats of mixed paint over a ground, all bands
//                                             middles.h  three ways to make the middle of a fade
//
// Diffuse light goes down and up through the film. Each micrometre takes away the share K (absorption) and
// turns back the share S (scattering). With X the film in micrometres and R_g the ground:
//
//     a = 1 + K/S,  b = sqrt(a^2 - 1)
//     R0 = sinh(bSX) / (a sinh(bSX) + b cosh(bSX))        over perfect black
//     T  = b / (a sinh(bSX) + b cosh(bSX))
//     R  = R0 + T^2 R_g / (1 - R0 R_g)                     over the ground
//     R_inf = a - b                                        so thick that the ground is lost
//
// and for layer 1 on top of layer 2
//
//     R0_12 = R0_1 + T_1^2 R0_2 / (1 - R0_1 R0_2),   T_12 = T_1 T_2 / (1 - R0_1 R0_2).
//
// Everything here is inside the film: reflectances as the pigments see them, without the skin (film/skin.h).
//
// Source     Kubelka & Munk 1931, Z. techn. Phys. 12:593-601; Kubelka 1948, J. Opt. Soc. Am. 38(5):448-457,
//            doi:10.1364/JOSA.38.000448; Kubelka 1954, J. Opt. Soc. Am. 44(4):330-335,
//            doi:10.1364/JOSA.44.000330
// Holds for  K, S, X >= 0 and finite, S = 0 and K = 0 included; effective K and S, diffuse light, no flakes
// Accuracy   1e-12 relative against 50-digit arithmetic; K/S down to nothing loses no digits
// Checks     tests/film/layer_test.cpp, tests/published/km_layer.csv
#pragma once

#include "fadewright/kernels/layer_stack.h"

namespace fadewright::film {

using Layer = kernels::TwoFlux;  // R0, T

// K and S per micrometre with X in micrometres, or any other pair of inverse units.
[[nodiscard]] Layer layer(double K, double S, double X) noexcept;

// The layer over a ground of reflectance R_g.
[[nodiscard]] double reflectance_over(Layer coat, double R_g) noexcept;

// R_inf; 0 for a film that neither absorbs nor scatters, since nothing ever comes back from it.
[[nodiscard]] double r_infinity(double K, double S) noexcept;

// K/S of the film that looks like R_inf when thick (0 < R_inf <= 1).
[[nodiscard]] double ks_ratio(double R_inf) noexcept;

// Two layers as one, seen from the top. The top layer must be even (one paint); the bottom one may itself be
// composed, so a stack is built from the bottom up. The order matters.
[[nodiscard]] Layer combine(Layer top, Layer bottom) noexcept;

}  // namespace fadewright::film
