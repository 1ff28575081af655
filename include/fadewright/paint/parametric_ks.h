// K and S drawn from a few numbers, for paints nobody has measured.
//
// Pigments absorb in a few broad bands, or everything below an edge. Blues and greens are bands in the red;
// magentas are a band in the green; yellows, oranges and reds are an edge; black is a floor. Scattering falls
// smoothly towards long wavelengths. With w the wavelength in nanometres and w_0 = kMiddleWavelength:
//
//     band    K += strength 2^-(2 (w - centre) / width_side)^2
//             width_side = width (1 - lean) below the centre, width (1 + lean) above it
//     edge    K += strength / (1 + exp((w - at) / softness))
//     floor   K += floor (w_0 / w)^slope
//     S        = strength (w_0 / w)^slope + bands of the same shape
//
// A band is a Gaussian in wavelength; `width` is its full width at half its height, whatever the lean. A
// strong edge raises scattering just above itself (the pigment's refractive index peaks there); that is what
// the extra bands of scattering are for.
//
// Holds for  estimates only: shapes are typical of the chemistry, not of any bottle
// Checks     tests/paint/modelled_test.cpp
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/colour/spectrum.h"

#include <vector>

namespace fadewright::paint {

inline constexpr Nanometres kReferenceWavelength{550};

struct AbsorptionBand {
    Nanometres centre{550};
    Nanometres width{80};    // full width at half height
    double skew = 0;         // -1 to 1: 0 even, positive stretches the long-wave side
    PerMicrometre strength;  // K at the centre
};

struct AbsorptionEdge {
    Nanometres at{500};       // where absorption has fallen to half
    Nanometres softness{10};  // most of the fall happens within two of these on either side
    PerMicrometre strength;   // K far below the edge
};

struct AbsorptionModel {
    std::vector<AbsorptionBand> bands;
    std::vector<AbsorptionEdge> edges;
    PerMicrometre baseline;     // K at the middle wavelength, under everything else
    double baseline_slope = 0;  // positive: more absorption in the blue (a brown undertone)
};

struct ScatteringBand {
    Nanometres centre{550};
    Nanometres width{80};
    double skew = 0;
    PerMicrometre strength;
};

struct ScatteringModel {
    PerMicrometre strength;             // S at the middle wavelength
    double slope = 1;                   // positive: rises towards the blue; about 1.5 for fine white
    std::vector<ScatteringBand> bands;  // extra scattering, as above a strong edge
};

[[nodiscard]] colour::Absorption parametric_absorption(const AbsorptionModel& model);
[[nodiscard]] colour::Scattering parametric_scattering(const ScatteringModel& model);

}  // namespace fadewright::paint
