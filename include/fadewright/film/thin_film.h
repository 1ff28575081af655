// Thin films: what a stack of sheets, each about as thick as light is long, sends back and lets through.
//
// Light mirrored at the many faces of such a stack adds up crest on crest or crest on trough, so that one
// colour comes back and the rest goes through. Each sheet is a 2 x 2 matrix between the fields on its two
// faces; with
//
//     n - ik    index of a sheet; k swallows
//     d         its thickness, in the unit of the wavelength
//     t         angle of the light in it, n sin t the same in all of them (Snell)
//     phi       2 pi n d cos t / wavelength
//     eta       n cos t for light vibrating across the plane of incidence (s), n / cos t along it (p)
//
//     (B, C) = product over the sheets of [cos phi, (i / eta) sin phi; i eta sin phi, cos phi] (1, eta_last)
//     r = (eta_0 B - C) / (eta_0 B + C),  R = |r|^2
//     T = 4 eta_0 Re(eta_last) / |eta_0 B + C|^2
//
// The matrices are written with sin phi / phi where a division by cos t could occur, and growing waves are
// kept in proportion, so that total reflection, grazing light and opaque sheets need no exceptions.
//
// Source     Abeles's matrices as in Macleod, Thin-Film Optical Filters (from memory)
// Holds for  light that arrives through a clear medium, 0 to 90 degrees; flat, even sheets without a front
//            or back that blurs the beat (no glass plates); any number of sheets
// Accuracy   R + T = 1 to 1e-12 where nothing swallows; the published cases to all their digits
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

// Shares of the light sent back and let through; what is missing to 1 is swallowed.
struct RT {
    double R = 0;
    double T = 0;
};

struct PolarisedRT {
    RT s, p;
    [[nodiscard]] RT mean() const noexcept { return {(s.R + p.R) / 2, (s.T + p.T) / 2}; }
};

// Sheets in the order the light meets them; `from` is clear, `into` need not be.
[[nodiscard]] PolarisedRT thin_film(double from, std::span<const ThinLayer> layers, OpticalIndex into,
                                    Degrees incidence, Nanometres wavelength);

enum class Polarisation { s, p };

// A coating between two clear media: amplitudes of the field along the faces, and what two coatings back to
// back need to know of each other (film/flake.h).
struct CoatingAmplitudes {
    std::complex<double> front;    // mirrored, for light from `from`
    std::complex<double> back;     // mirrored, for light from `into`
    std::complex<double> through;  // let through there and back, t t'
};

// cos_from in (0, 1]; no total reflection on the way to `into` (contract).
[[nodiscard]] CoatingAmplitudes coating(double from, std::span<const ThinLayer> layers, double into,
                                        double cos_from, Nanometres wavelength, Polarisation polarisation);

}  // namespace fadewright::film
