// Fast version of layer_stack.h: one coat over many points, in all bands at once, in vector arithmetic.
//
// Bands are adjacent, point after point: reflectance[point * bands + band], so that the speed does not depend
// on the number of points. The terms of the paint alone are calculated once, in the constructor. With g =
// sqrt(K (K + 2S)), L = 1 - exp(-2 g X), A = 2 - L (1 - K/g) and s = L S/g, film and ground together need one
// division:
//
//     V = A + s (1 - R_g),    W = V + s R_g,    R = (s V + 4 (1 - L) R_g) / (W V).
//
// Nothing cancels, and V is never below 1. Without absorption, g is a number too small to matter.
//
// Source: [kubelka1948], [kubelka1954], the form with one division is our own derivation; exp as an integer
//            power of two and the Taylor series of the rest.
// Holds for  the range of layer_stack.h; dots above kMaxFastSplats over a point use the reference
//            implementation
// Accuracy   double, for results: films within 1e-14 of the reference, dots and coalescing dots within 1e-9;
//            float, for pictures: within 1e-6 up to 1 km of film; the same bits for every vector width
// Checks     tests/kernels/layer_stack_fast_test.cpp; speed against the reference in tests/bench
#pragma once

#include "fadewright/kernels/layer_stack.h"

#include <cstddef>
#include <span>
#include <vector>

namespace fadewright::kernels::fast {

// Largest mean number of splats over a point that is summed in vectors.
inline constexpr double kMaxFastSplats = 32;

// The reference function of a coat: lay_coat, lay_coalescing_dots or lay_dots.
enum class Laydown { wet, automatic, dots };

// Real: double, or float for pictures.
template <class Real>
class Coat {
public:
    // K, S: one value per band. splat_um: mean dry thickness of one splat (0: an even film).
    Coat(Laydown laydown, double splat_um, std::span<const double> K, std::span<const double> S);

    // reflectance.size() == bands * film_um.size()
    void lay(std::span<const double> film_um, std::span<Real> reflectance) const;

private:
    // Terms of the paint, per band. exponent_per_um: 2 g / ln 2, so that exp(-2 g X) = 2^-(exponent_per_um
    // X).
    struct Film {
        std::vector<Real> exponent_per_um, S_per_g, one_minus_K_per_g;
    };
    // Reflectance of 0, 1, 2 ... splats, and their transmittance squared; bands are adjacent.
    struct Droplets {
        std::vector<Real> R0, T2;
    };

    [[nodiscard]] std::size_t bands() const { return K_.size(); }
    void apply_film(double film_um, Real* reflectance) const;
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
