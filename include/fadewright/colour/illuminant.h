// Illuminants, and the weights that turn a reflectance under one into XYZ.
//
//     X = sum_i W_X,i R_i over the program's bands (Y, Z likewise), Y = 100 for R = 1
//
// Weights for 10 nm data: the reflectance is interpolated through the bands (Lagrange cubic), multiplied by
// illuminant and observer, and summed at 1 nm. The narrow lines of fluorescent tubes are never smoothed: a
// light with `narrow_band` is summed at its own wavelengths. Beyond the bands the end reflectances are held
// constant, so the weights there are added to the end bands and the white stays exact.
//
// Source: [astmE2022] (weights by interpolation), [astmE308] (missing ends), both checked against published
//            numbers. Daylight D50, D55, D75: components S0, S1, S2 of [cie15], [judd1964]. D65: its own
//            table [iso11664-2], linear between 5 nm values. A: its formula [iso11664-2]. LED: own
//            derivation, a narrow blue peak and a broad phosphor, about 4000 K; no CIE illuminant.
// Holds for  bands free of bandpass error: measured data already corrected, or smooth curves of a model
// Accuracy   white points within 0.01 of the published ones; weights of smooth illuminants within
//            0.0015 of an independent program's
// Checks     tests/colour/illuminant_test.cpp, tests/colour/peer_test.cpp
#pragma once

#include "fadewright/colour/lab.h"
#include "fadewright/colour/spectrum.h"

#include <array>
#include <string>
#include <string_view>
#include <vector>

namespace fadewright::colour {

// Standard observers: CIE colour-matching functions for 2 and 10 degree fields.
enum class Observer { two_degree, ten_degree };

// The published 5 nm table; wavelengths in nanometres, increasing.
struct ColourMatchingFunctions {
    std::vector<double> wavelengths_nm;
    std::vector<double> x, y, z;
};

// Source: [iso11664-1], tables compiled in from src/colour/tables/observer_*.csv.
[[nodiscard]] const ColourMatchingFunctions& colour_matching_functions(Observer observer);

struct Illuminant {
    std::string id;
    std::string title;
    std::vector<double> wavelengths_nm;  // increasing
    std::vector<double> power;           // relative
    bool narrow_band = false;            // narrow lines: sum at these wavelengths only
};

enum class StandardIlluminant { D65, D50, A, F2, F11, LED, C, D55, D75, F7 };

[[nodiscard]] const Illuminant& standard_illuminant(StandardIlluminant light);
[[nodiscard]] const Illuminant* standard_illuminant(
    std::string_view id);  // by its id, for example "D65"; null if unknown

struct TristimulusWeights {
    std::array<std::array<double, 3>, kBandCount> w{};  // X, Y, Z of each band
    XYZ white;                                          // of R = 1 everywhere
};

// Power is linear between the given values and 0 beyond them; some of it must be visible (contract).
[[nodiscard]] TristimulusWeights tristimulus_weights(const Illuminant& light, Observer observer);

[[nodiscard]] XYZ to_xyz(const Reflectance& reflectance, const TristimulusWeights& weights) noexcept;

}  // namespace fadewright::colour
