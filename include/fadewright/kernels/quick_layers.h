// The quick twins of layer_stack.h: one coat over many points, in all bands at once, in vector arithmetic.
//
// Points lie side by side and bands one after the other: reflectance[band * film_um.size() + point]. What belongs
// to a point alone, the shares of its droplets, is found once for all bands; what belongs to the paint alone, what
// so many splats send back, once for all points. With e = exp(-g X), g = sqrt(K (K + 2S)) and
// q = (1 - e^2)/g, film and ground together take one division:
//
//     V = 1 + e^2 + K q + S q (1 - R_g),    W = V + S q R_g,    R = (S q V + 4 e^2 R_g) / (W V).
//
// No part of it cancels, and V is never below 1.
//
// Source     Kubelka 1948 and 1954 as in layer_stack.h, the fraction cleared here; exp by reduction to
//            |r| <= ln(2)/2 and its Taylor series
// Holds for  what layer_stack.h holds for; fogs above kQuickSplats droplets over a point go the plain way
// Accuracy   films within 1e-14 of the plain twin, fog and what dries as it lands within 1e-9; the same bits on
//            every machine, whatever its vectors hold
// Checks     tests/kernels/quick_layers_test.cpp; speed beside the plain twin in tests/bench
#pragma once

#include "fadewright/kernels/layer_stack.h"

#include <cstddef>
#include <span>
#include <vector>

namespace fadewright::kernels::quick {

// Mean number of splats over a point up to which droplets are summed in vectors.
inline constexpr double kQuickSplats = 32;

// Which of the plain loops a coat goes by: lay_coat, lay_as_it_lands or lay_fog.
enum class Drying { film, as_it_lands, fog };

class Coat {
public:
    // K, S: one value for each band. splat_um: mean dry thickness of one splat (0: an even film).
    Coat(Drying drying, double splat_um, std::span<const double> K, std::span<const double> S);

    // reflectance.size() == bands * film_um.size()
    void lay(std::span<const double> film_um, std::span<double> reflectance) const;

private:
    struct Dotted;
    void lay_film(std::span<const double> film_um, std::span<double> reflectance) const;
    void lay_as_it_lands(std::span<const double> film_um, std::span<double> reflectance) const;
    void lay_fog(std::span<const double> film_um, std::span<double> reflectance) const;
    void lay_droplets(const Dotted& dotted, std::size_t count, std::span<const double> ground,
                      std::span<double> reflectance) const;

    Drying drying_;
    double splat_um_;
    std::vector<double> K_, S_;
    std::vector<TwoFlux> splats_;  // of no droplet, one, two... over a point; bands side by side
};

}  // namespace fadewright::kernels::quick
