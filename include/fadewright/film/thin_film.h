// Thin films: reflectance and transmittance of a stack of layers, each about as thick as the wavelength.
//
// Light reflected at the interfaces of such a stack interferes, so that some wavelengths are reflected and
// the rest transmitted. Each layer is a 2 x 2 matrix between the fields on its two faces; with
//
//     n - ik    index of a layer; k absorbs
//     d         its thickness, in the unit of the wavelength
//     t         angle of the light in it, n sin t the same in all of them (Snell)
//     phi       2 pi n d cos t / wavelength
//     eta       n cos t for s polarisation (field across the plane of incidence), n / cos t for p (in it)
//
//     (B, C) = product over the layers of [cos phi, (i / eta) sin phi; i eta sin phi, cos phi] (1, eta_last)
//     r = (eta_0 B - C) / (eta_0 B + C),  R = |r|^2
//     T = 4 eta_0 Re(eta_last) / |eta_0 B + C|^2
//
// The matrices are written with sin phi / phi where a division by cos t could occur, and growing waves are
// kept scaled, so that total reflection, grazing incidence and opaque layers need no exceptions.
//
// Source: [macleod2010] (characteristic matrices).
// Holds for  light incident through a clear medium, 0 to 90 degrees; flat, even layers without a front or
//            back that blurs the interference (no glass plates); any number of layers
// Accuracy   R + T = 1 to 1e-12 without absorption; the published cases to all their digits
// Checks     tests/film/thin_film_test.cpp, tests/published/thin_film.csv
#pragma once

#include "fadewright/base/quantity.h"

#include <complex>
#include <span>

namespace fadewright::film {

// n - ik. k is not negative.
struct OpticalIndex {
    double n = 1;
    double k = 0;

    friend constexpr bool operator==(const OpticalIndex&, const OpticalIndex&) = default;
};

struct ThinLayer {
    OpticalIndex index;
    Nanometres thickness;
};

// Reflected and transmitted shares of the light; the remainder to 1 is absorbed.
struct RT {
    double R = 0;
    double T = 0;
};

struct PolarisedRT {
    RT s, p;
    [[nodiscard]] RT mean() const noexcept { return {(s.R + p.R) / 2, (s.T + p.T) / 2}; }
};

// Layers in the order the light meets them; `from` is clear, `into` need not be.
[[nodiscard]] PolarisedRT thin_film(double from, std::span<const ThinLayer> layers, OpticalIndex into,
                                    Degrees incidence, Nanometres wavelength);

enum class Polarisation { s, p };

// A coating between two clear media: amplitude coefficients of the field along the interfaces, as needed to
// combine two coatings back to back (film/flake.h).
struct CoatingAmplitudes {
    std::complex<double> front;    // reflected, for light from `from`
    std::complex<double> back;     // reflected, for light from `into`
    std::complex<double> through;  // transmitted there and back, t t'
};

// cos_from in (0, 1]; no total reflection on the way to `into` (contract).
[[nodiscard]] CoatingAmplitudes coating(double from, std::span<const ThinLayer> layers, double into,
                                        double cos_from, Nanometres wavelength, Polarisation polarisation);

}  // namespace fadewright::film
