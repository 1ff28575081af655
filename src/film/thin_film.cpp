// Signs as in the header: n - ik with forward waves exp(-i phi). Differences from the textbook form:
// * p polarisation is calculated with eta times cos t, and the last medium's fields times its own
//   n cos t, so that nothing is divided by a cosine that may be 0;
// * every layer's matrix is scaled by exp(-|Im phi|), which cancels in r and is restored in T at the end.
#include "fadewright/film/thin_film.h"

#include "fadewright/base/contract.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace fadewright::film {
namespace {

using Complex = std::complex<double>;

// Below this sin(phi)/phi equals its series to the last bit.
constexpr double kSmallPhase = 1e-2;

// Plain products: the library's own guards against infinities that never occur here, at several times the
// cost.
Complex multiply(Complex a, Complex b) noexcept {
    return {a.real() * b.real() - a.imag() * b.imag(), a.real() * b.imag() + a.imag() * b.real()};
}

Complex multiply_by_i(Complex a) noexcept { return {-a.imag(), a.real()}; }

Complex divide(Complex a, Complex b) noexcept {
    const double norm = std::norm(b);
    const Complex numerator = multiply(a, std::conj(b));
    return {numerator.real() / norm, numerator.imag() / norm};
}

Complex index_squared(OpticalIndex index) noexcept {
    return {index.n * index.n - index.k * index.k, -2 * index.n * index.k};
}

// n cos t of a medium, on the branch that decays in the direction of travel.
Complex n_cos(Complex index_squared, double n_sin) noexcept {
    const Complex square = index_squared - n_sin * n_sin;
    if (square.imag() == 0)
        return square.real() >= 0 ? Complex{std::sqrt(square.real()), 0}
                                  : Complex{0, -std::sqrt(-square.real())};
    const Complex root = std::sqrt(square);
    return root.imag() > 0 ? -root : root;
}

struct Matrix {
    Complex m11{1}, m12{0}, m21{0}, m22{1};
    double attenuation = 0;  // the true matrix is exp(attenuation) times this
};

Matrix layer_matrix(const ThinLayer& layer, double n_sin, double wave_per_nm,
                    Polarisation polarisation) noexcept {
    const Complex n2 = index_squared(layer.index);
    const Complex q = n_cos(n2, n_sin);
    const double depth = wave_per_nm * layer.thickness.value;
    const Complex phi = depth * q;
    const double fade = -phi.imag();
    const double c = std::cos(phi.real()), s = std::sin(phi.real());
    const double decay = std::exp(-2 * fade);
    const Complex cosine{c * (1 + decay) / 2, s * (1 - decay) / 2};
    Complex sine{s * (1 + decay) / 2, -c * (1 - decay) / 2};
    Complex sine_over_q;
    if (std::norm(phi) < kSmallPhase * kSmallPhase) {
        const Complex phi2 = multiply(phi, phi);
        sine_over_q = std::exp(-fade) * depth * (1.0 - phi2 / 6.0 + multiply(phi2, phi2) / 120.0);
        sine = multiply(sine_over_q, q);
    } else {
        sine_over_q = divide(sine, q);
    }
    if (polarisation == Polarisation::s)
        return {cosine, multiply_by_i(sine_over_q), multiply_by_i(multiply(sine, q)), cosine, fade};
    return {cosine, multiply_by_i(divide(multiply(sine, q), n2)), multiply_by_i(multiply(n2, sine_over_q)),
            cosine, fade};
}

Matrix product(const Matrix& a, const Matrix& b) noexcept {
    return {multiply(a.m11, b.m11) + multiply(a.m12, b.m21), multiply(a.m11, b.m12) + multiply(a.m12, b.m22),
            multiply(a.m21, b.m11) + multiply(a.m22, b.m21), multiply(a.m21, b.m12) + multiply(a.m22, b.m22),
            a.attenuation + b.attenuation};
}

Matrix matrix(std::span<const ThinLayer> layers, double n_sin, double wave_per_nm,
              Polarisation polarisation) noexcept {
    Matrix total;
    for (const ThinLayer& layer : layers)
        total = product(total, layer_matrix(layer, n_sin, wave_per_nm, polarisation));
    return total;
}

RT stack_rt(double from, double cos_from, std::span<const ThinLayer> layers, OpticalIndex into, double n_sin,
            double wave_per_nm, Polarisation polarisation) noexcept {
    const Matrix m = matrix(layers, n_sin, wave_per_nm, polarisation);
    const Complex n2 = index_squared(into);
    const Complex q = n_cos(n2, n_sin);
    const bool across = polarisation == Polarisation::s;
    const Complex field = across ? Complex{1} : q;  // behind the last layer, common scale
    const Complex eta = across ? q : n2;
    const Complex B = multiply(m.m11, field) + multiply(m.m12, eta);
    const Complex C = multiply(m.m21, field) + multiply(m.m22, eta);
    const double of_B = across ? from * cos_from : from;
    const double of_C = across ? 1 : cos_from;
    const double denominator = std::norm(of_B * B + of_C * C);
    if (denominator <= 0) return {1, 0};  // grazing along no boundary at all
    const double energy = across ? q.real() : multiply(n2, std::conj(q)).real();
    return {std::norm(of_B * B - of_C * C) / denominator,
            4 * of_B * of_C * std::max(0.0, energy) * std::exp(-2 * m.attenuation) / denominator};
}

}  // namespace

PolarisedRT thin_film(double from, std::span<const ThinLayer> layers, OpticalIndex into, Degrees incidence,
                      Nanometres wavelength) {
    FW_EXPECTS(from > 0);
    FW_EXPECTS(incidence.value >= 0 && incidence.value <= 90);
    FW_EXPECTS(wavelength.value > 0);
    const double angle = radians(incidence);
    const double cos_from = incidence.value == 90 ? 0 : std::cos(angle);
    const double n_sin = from * std::sin(angle);
    const double wave_per_nm = 2 * std::numbers::pi / wavelength.value;
    return {stack_rt(from, cos_from, layers, into, n_sin, wave_per_nm, Polarisation::s),
            stack_rt(from, cos_from, layers, into, n_sin, wave_per_nm, Polarisation::p)};
}

CoatingAmplitudes coating(double from, std::span<const ThinLayer> layers, double into, double cos_from,
                          Nanometres wavelength, Polarisation polarisation) {
    FW_EXPECTS(cos_from > 0 && cos_from <= 1);
    const double n_sin = from * std::sqrt(1 - cos_from * cos_from);
    FW_EXPECTS(n_sin < into);
    const double cos_into = std::sqrt(1 - (n_sin / into) * (n_sin / into));
    const bool across = polarisation == Polarisation::s;
    const double eta_from = across ? from * cos_from : from / cos_from;
    const double eta_into = across ? into * cos_into : into / cos_into;
    const Matrix m = matrix(layers, n_sin, 2 * std::numbers::pi / wavelength.value, polarisation);
    const Complex a = eta_from * m.m11, b = eta_from * eta_into * m.m12, c = m.m21, d = eta_into * m.m22;
    const Complex denominator = a + b + c + d;
    return {divide(a + b - c - d, denominator), divide(d + b - c - a, denominator),
            divide(Complex{4 * eta_from * eta_into * std::exp(-2 * m.attenuation)},
                   multiply(denominator, denominator))};
}

}  // namespace fadewright::film
