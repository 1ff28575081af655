// Lights, and the weights that turn a reflectance seen in one into XYZ.
//
//     X = sum_i W_X,i R_i over the program's bands (Y, Z likewise), Y = 100 for R = 1
//
// Weights for 10 nm data: the reflectance is thought of as a smooth curve through the bands (Lagrange's
// cubic), multiplied by light and eye, and summed at 1 nm. A tube's narrow lines are never smoothed: a light
// with `lines` is summed at its own wavelengths. Beyond the bands the end reflectances are held, so the
// weights out there are added to the end bands and the white stays exact.
//
// Source: [astmE2022] (weights by interpolation), [astmE308] (missing ends), both checked by numbers.
//            Daylight D50, D55, D75: components S0, S1, S2 of [cie15], [judd1964]. D65: its own table
//            [iso11664-2], straight between 5 nm values. A: its formula [iso11664-2]. LED: own derivation, a
//            narrow blue peak and a broad phosphor, about 4000 K; no CIE illuminant.
// Holds for  bands free of bandpass error: measured data already corrected, or smooth curves of a model
// Accuracy   white points within 0.01 of the published ones; smooth lights' weights within
//            0.0015 of another program's
// Checks     tests/colour/light_test.cpp, tests/colour/peer_test.cpp
#pragma once

#include "fadewright/colour/lab.h"
#include "fadewright/colour/observer.h"
#include "fadewright/colour/spectrum.h"

#include <array>
#include <string>
#include <string_view>
#include <vector>

namespace fadewright::colour {

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
    std::string_view id);  // by its id, as "D65"; null if there is none

struct TristimulusWeights {
    std::array<std::array<double, 3>, kBandCount> w{};  // X, Y, Z of each band
    XYZ white;                                          // of R = 1 everywhere
};

// Power is straight between the light's own values, none beyond them; it must have some in what the eye sees
// (contract).
[[nodiscard]] TristimulusWeights tristimulus_weights(const Illuminant& light, Observer observer);

[[nodiscard]] XYZ to_xyz(const Reflectance& reflectance, const TristimulusWeights& weights) noexcept;

}  // namespace fadewright::colour
