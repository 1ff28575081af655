// The inner loop of film optics: one coat over many points, in one band.
//
// A film of thickness X that absorbs K and scatters S per micrometre reflects the share R0 of the diffuse
// light on it and transmits the share T. With the multiple reflections between film and ground R_g:
//
//     R = R0 + T^2 R_g / (1 - R0 R_g).
//
// lay_coat() applies an even film to every point; lay_dots() applies the same paint as droplets that dried
// before they could coalesce (dry spray). With m = film / splat droplets over a point on average, their
// number follows a Poisson distribution:
//
//     R = sum over k of P(k; m) R(k splats).
//
// lay_coalescing_dots() is between the two, depending on m: droplets that touch a wet neighbour coalesce, and
// the share exp(-m) has no neighbour,
//
//     R = exp(-m) R_dots + (1 - exp(-m)) R_film.
//
// All change `reflectance` in place, point by point, so the order and number of threads cannot matter.
// This is the reference implementation for layer_stack_fast.h.
//
// Source: [kubelka1948] (R0, T), [kubelka1954] (film over ground); dots: own derivation, the mean over a
//            Boolean model of splats, and the share without a neighbour from the same model.
// Holds for  K, S, film, splat >= 0 and finite, 0 <= R_g <= 1; diffuse light, no air surface between the
//            films
// Accuracy   two_flux within 1e-12 of 50-digit arithmetic for y = film sqrt(K (K + 2S)) < 700; above
//            kMaxSplats dots are treated as an even film, an error below 2 (K + S)^2 film splat
// Checks     tests/kernels/layer_stack_test.cpp, tests/film/layer_test.cpp
#pragma once

#include <span>

namespace fadewright::kernels {

struct TwoFlux {
    double R0;  // share reflected, over perfect black
    double T;   // share transmitted
};

[[nodiscard]] TwoFlux two_flux(double K, double S, double film_um) noexcept;

[[nodiscard]] double over_ground(TwoFlux film, double ground) noexcept;

// Above this mean number of splats over a point, dots are treated as a film.
inline constexpr double kMaxSplats = 65536;

// film_um.size() == reflectance.size(); reflectance holds the ground and receives the coated ground.
void lay_coat(std::span<const double> film_um, double K, double S, std::span<double> reflectance);

// film_um: mean dry film; splat_um: mean dry thickness of one splat (0: an even film).
void lay_dots(std::span<const double> film_um, double splat_um, double K, double S,
              std::span<double> reflectance);

// Above this mean number of splats the share without a neighbour (1e-4) is neglected.
inline constexpr double kMaxIsolatedSplats = 9.2;
void lay_coalescing_dots(std::span<const double> film_um, double splat_um, double K, double S,
                         std::span<double> reflectance);

}  // namespace fadewright::kernels
