// Parametric K and S from a few numbers, for paints without measurements.
//
// Pigments absorb in a few broad bands, or everything below an edge. Blues and greens absorb in the red;
// magentas in the green; yellows, oranges and reds have an edge; black has a baseline. Scattering decreases
// smoothly towards long wavelengths. With w the wavelength in nanometres and w_0 = kMiddleWavelength:
//
//     band       K += strength 2^-(2 (w - centre) / width_side)^2
//                width_side = width (1 - skew) below the centre, width (1 + skew) above it
//     edge       K += strength / (1 + exp((w - at) / softness))
//     baseline   K += baseline (w_0 / w)^baseline_slope
//     S          = strength (w_0 / w)^slope + bands of the same shape
//
// A band is a Gaussian in wavelength; `width` is its full width at half maximum for any skew. A
// strong edge raises the scattering just above it (the pigment's refractive index peaks there); the extra
// bands of scattering describe this.
//
// Holds for  estimates only: shapes are typical of the pigment class, not of one product
// Checks     tests/paint/parametric_ks_test.cpp
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/colour/spectrum.h"

#include <vector>

namespace fadewright::paint {

inline constexpr Nanometres kReferenceWavelength{550};

struct AbsorptionBand {
    Nanometres centre{550};
    Nanometres width{80};    // full width at half height
    double skew = 0;         // -1 to 1: 0 symmetric, positive widens the long-wave side
    PerMicrometre strength;  // K at the centre
};

struct AbsorptionEdge {
    Nanometres at{500};       // where absorption has fallen to half
    Nanometres softness{10};  // most of the change is within twice this on either side
    PerMicrometre strength;   // K far below the edge
};

struct AbsorptionModel {
    std::vector<AbsorptionBand> bands;
    std::vector<AbsorptionEdge> edges;
    PerMicrometre baseline;     // K at the middle wavelength, added everywhere
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
