// The inner loop of film optics: a coat laid over many points at once, in one band.
//
// A film that absorbs K and scatters S per micrometre, X micrometres thick, sends back the share R0 of the
// diffuse light that falls on it and lets the share T through. Light that passes may come back from the
// ground R_g and be caught again, to and fro, until
//
//     R = R0 + T^2 R_g / (1 - R0 R_g).
//
// lay_coat() puts an even film over every point; lay_fog() puts the same paint there as droplets that dried
// before they could join. With m = film / splat droplets over a point on average, their number is Poisson:
//
//     R = sum over k of P(k; m) R(k splats).
//
// lay_as_it_lands() tells the two apart by how much lands: droplets that touch a wet neighbour flow together,
// and of so many splats over a point the share exp(-m) has none,
//
//     R = exp(-m) R_dots + (1 - exp(-m)) R_film.
//
// All change `reflectance` in place, point by point, so the order and number of threads cannot matter.
// These plain loops are the truth that any faster twin must agree with.
//
// Source: [kubelka1948] (R0, T), [kubelka1954] (film over ground); dots: own derivation, the mean over a
//            Boolean model of splats, and the share without a neighbour from the same model.
// Holds for  K, S, film, splat >= 0 and finite, 0 <= R_g <= 1; diffuse light, no air surface between the
//            films
// Accuracy   two_flux within 1e-12 of 50-digit arithmetic for y = film sqrt(K (K + 2S)) < 700; above
//            kMostSplats dots are taken as an even film, an error below 2 (K + S)^2 film splat
// Checks     tests/kernels/layer_stack_test.cpp, tests/film/layer_test.cpp
#pragma once

#include <span>

namespace fadewright::kernels {

struct TwoFlux {
    double R0;  // share sent back, over perfect black
    double T;   // share let through
};

[[nodiscard]] TwoFlux two_flux(double K, double S, double film_um) noexcept;

[[nodiscard]] double over_ground(TwoFlux film, double ground) noexcept;

// Above this mean number of splats over a point, dots are as good as a film.
inline constexpr double kMaxSplats = 65536;

// film_um.size() == reflectance.size(); reflectance holds the ground and receives the coated ground.
void lay_coat(std::span<const double> film_um, double K, double S, std::span<double> reflectance);

// film_um: mean dry film; splat_um: mean dry thickness of one splat (0: an even film).
void lay_dots(std::span<const double> film_um, double splat_um, double K, double S,
              std::span<double> reflectance);

// Beyond this mean number of splats so few are alone (1e-4) that they are not counted.
inline constexpr double kMaxIsolatedSplats = 9.2;
void lay_coalescing_dots(std::span<const double> film_um, double splat_um, double K, double S,
                         std::span<double> reflectance);

}  // namespace fadewright::kernels
