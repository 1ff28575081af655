// K and S of a paint fitted to readings of its films: a hiding chart, a ladder of let-downs, or a thick film
// alone.
//
// Every reading is a film of known thickness over a known ground, of the paint alone or with a known share of
// other paints in it (K = share K_paint + known_K, S likewise). In each band K and S minimise
//
//     chi2(K, S) = sum over readings ((predicted - measured) / noise)^2,     K >= 0, S >= 0
//
// with reflectances outside the surface, by damped Gauss-Newton steps from the best point of a coarse grid.
//
// The uncertainty of a band is given in two ways. `error` is the standard error of the linearised sum (from
// its Jacobian). `low` and `high` are where chi2, minimised over the other coefficient, has risen by
// kLimitRise: two standard errors for a well-determined band, and still valid where a film hides so well, or
// so little, that one side is open. The noise is raised by `noise_scale` when the residuals exceed their
// stated noise, all bands taken together.
//
// Where the films may as well hide completely (chi2 there has risen by less than kOpaqueRise, four standard
// errors) the readings determine only K/S, or nothing if they are of the bare chart: `high` is infinite.
// There S is extrapolated from the nearest bands that determine it, or, if none does, set as low as the
// readings allow; K follows. Such bands are marked `S_extrapolated`.
//
// Source: [marquardt1963] (least squares, rise of chi2); profile of the sum: own derivation.
// Holds for  effective K and S, one binder index, readings with independent errors; a ground's own error is
//            common to its films, so it is added to each of them times the root of their number
// Accuracy   readings without noise return K and S to 1e-6 relative between contrast ratio 0.3 and 0.97
// Checks     tests/calibration/ks_fit_test.cpp; tests/calibration/paint_calibration_test.cpp for every paint of the library
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/colour/spectrum.h"
#include "fadewright/film/hiding.h"
#include "fadewright/film/surface.h"

#include <array>
#include <optional>
#include <span>
#include <vector>

namespace fadewright::calibration {

inline constexpr double kLimitRise = 4;    // of chi2, at low and high
inline constexpr double kOpaqueRise = 16;  // of chi2, below which an infinite film is not ruled out

// One film, read in all bands.
struct DrawdownReading {
    Micrometres film;              // dry; infinite: full hiding
    colour::Reflectance ground;    // below the film, inside the binder
    colour::Reflectance measured;  // as read outside, surface included
    double noise = 0.002;          // standard error of `measured`
    double ground_noise = 0;       // standard error of `ground`
    Share share{1.0};              // of the fitted paint in the dry film
    colour::Absorption known_K;    // of the other paints, per micrometre of the whole film
    colour::Scattering known_S;
};

struct Estimate {
    double value = 0;
    double error = 0;          // infinite where the readings do not determine it
    double low = 0, high = 0;  // high may be infinite

    // Half of the wider side of low..high as a share of the value: one standard error, roughly.
    [[nodiscard]] double uncertainty() const noexcept;
};

struct BandFit {
    Estimate K, S;
    bool S_extrapolated = false;  // S is not this band's own
};

struct PaintFit {
    colour::Absorption K;
    colour::Scattering S;
    std::array<BandFit, colour::kBandCount> bands;
    std::vector<colour::Reflectance> residuals;  // measured less predicted, in the order of the readings
    double rms_error = 0;                        // of all residuals
    double noise_scale = 1;                      // by which the stated noise had to be raised
};

// At least one reading; noise above 0, films not negative, shares above 0 (contract).
[[nodiscard]] PaintFit fit_ks(std::span<const DrawdownReading> readings, film::SaundersonCorrection surface,
                              film::Specular specular, double rise = kLimitRise);

struct AbsorptionAndScatteringSpectra {
    colour::Absorption K;
    colour::Scattering S;
};

// A paint of which only the masstone (inside) and the film that hides a chart are known. S is taken as the
// same in every band. None if that colour never hides.
[[nodiscard]] std::optional<AbsorptionAndScatteringSpectra> ks_from_masstone(
    const colour::Reflectance& inside, Micrometres hiding_film, film::HidingChart chart,
    film::SaundersonCorrection surface, const colour::Spd& luminosity);

}  // namespace fadewright::calibration
