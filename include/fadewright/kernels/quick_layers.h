// The quick twins of layer_stack.h: one coat over many points, in all bands at once, in vector arithmetic.
//
// Bands lie side by side, a point after the other: reflectance[point * bands + band], so that few points are as quick
// as many. What belongs to the paint alone is found once, when the coat is made. With e = exp(-g X), g = sqrt(K (K + 2S)) and
// q = (1 - e^2)/g, film and ground together take one division:
//
//     V = 1 + e^2 + K q + S q (1 - R_g),    W = V + S q R_g,    R = (S q V + 4 e^2 R_g) / (W V).
//
// No part of it cancels, and V is never below 1.
//
// Source     Kubelka 1948 and 1954 as in layer_stack.h, the fraction cleared here; exp by reduction to
//            |r| <= ln(2)/2 and its Taylor series
// Holds for  what layer_stack.h holds for; fogs above kQuickSplats droplets over a point go the plain way
// Accuracy   fine: films within 1e-14 of the plain twin, fog and what dries as it lands within 1e-9; for pictures:
//            within 1e-6 up to 1 km of film; the same bits on
//            every machine, whatever its vectors hold
// Checks     tests/kernels/quick_layers_test.cpp; speed beside the plain twin in tests/bench
#pragma once

#include "fadewright/kernels/layer_stack.h"

#include <cstddef>
#include <span>
#include <variant>
#include <vector>

namespace fadewright::kernels::quick {

// Mean number of splats over a point up to which droplets are summed in vectors.
inline constexpr double kQuickSplats = 32;

// Which of the plain loops a coat goes by: lay_coat, lay_as_it_lands or lay_fog.
enum class Drying { film, as_it_lands, fog };

// Of the arithmetic: for figures, or for what the eye is shown, in numbers of half the length.
enum class Precision { fine, picture };

class Coat {
public:
    // K, S: one value for each band. splat_um: mean dry thickness of one splat (0: an even film).
    Coat(Drying drying, double splat_um, std::span<const double> K, std::span<const double> S,
         Precision precision = Precision::fine);

    // reflectance.size() == bands * film_um.size()
    void lay(std::span<const double> film_um, std::span<double> reflectance) const;

    // What the loops need of the paint, band by band; of droplets, bands side by side for none, one, two... of them.
    template <class Real>
    struct Paint {
        std::vector<Real> K, S, g, per_g;
        std::vector<Real> R0, T2;  // sent back by so many splats, and let through there and back
    };

private:
    template <class Real>
    void lay_with(const Paint<Real>& paint, std::span<const double> film_um,
                  std::span<double> reflectance) const;
    [[nodiscard]] std::size_t bands() const;

    Drying drying_;
    double splat_um_;
    std::vector<double> K_, S_;
    std::variant<Paint<double>, Paint<float>> paint_;
};

}  // namespace fadewright::kernels::quick
