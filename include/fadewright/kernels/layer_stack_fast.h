// The quick twins of layer_stack.h: one coat over many points, in all bands at once, in vector arithmetic.
//
// Bands lie side by side, a point after the other: reflectance[point * bands + band], so that few points are as quick
// as many. What belongs to the paint alone is found once, when the coat is made. With g = sqrt(K (K + 2S)),
// L = 1 - exp(-2 g X), A = 2 - L (1 - K/g) and s = L S/g, film and ground together take one division:
//
//     V = A + s (1 - R_g),    W = V + s R_g,    R = (s V + 4 (1 - L) R_g) / (W V).
//
// No part of it cancels, and V is never below 1. Where nothing is absorbed, g is a number too small to matter.
//
// Source: [kubelka1948], [kubelka1954], the fraction cleared by our own derivation; exp as a whole power of
//            two and the Taylor series of the rest.
// Holds for  what layer_stack.h holds for; fogs above kQuickSplats droplets over a point go the plain way
// Accuracy   double, for figures: films within 1e-14 of the plain twin, fog and what dries as it lands within 1e-9;
//            float, for what the eye is shown: within 1e-6 up to 1 km of film; the same bits on every machine,
//            whatever its vectors hold
// Checks     tests/kernels/quick_layers_test.cpp; speed beside the plain twin in tests/bench
#pragma once

#include "fadewright/kernels/layer_stack.h"

#include <cstddef>
#include <span>
#include <vector>

namespace fadewright::kernels::fast {

// Mean number of splats over a point up to which droplets are summed in vectors.
inline constexpr double kMaxFastSplats = 32;

// Which of the plain loops a coat goes by: lay_coat, lay_as_it_lands or lay_fog.
enum class Laydown { wet, automatic, dots };

// Real: double, or float for pictures.
template <class Real>
class Coat {
public:
    // K, S: one value for each band. splat_um: mean dry thickness of one splat (0: an even film).
    Coat(Laydown laydown, double splat_um, std::span<const double> K, std::span<const double> S);

    // reflectance.size() == bands * film_um.size()
    void lay(std::span<const double> film_um, std::span<Real> reflectance) const;

private:
    // What the loops need of the paint, band by band; halvings: 2 g / ln 2, how often exp(-2 g X) halves in a
    // micrometre.
    struct Film {
        std::vector<Real> halvings, S_per_g, one_minus_K_per_g;
    };
    // Sent back by so many splats, and let through there and back; bands side by side for none, one, two... of them.
    struct Droplets {
        std::vector<Real> R0, T2;
    };

    [[nodiscard]] std::size_t bands() const { return K_.size(); }
    void lay_film(double film_um, Real* reflectance) const;
    void add_droplets(double mean, double weight, const Real* ground, std::vector<Real>& sum) const;
    void lay_dots_reference(double film_um, Real* reflectance) const;

    Laydown laydown_;
    double splat_um_;
    std::vector<double> K_, S_;
    Film film_;
    Droplets droplets_;
};

extern template class Coat<double>;
extern template class Coat<float>;

}  // namespace fadewright::kernels::fast
