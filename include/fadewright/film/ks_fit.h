// K and S of a paint from readings of its films: a card, a ladder of let-downs, or a thick film alone.
//
// Every reading is a film of known thickness over a known ground, of the paint alone or with a known share of
// other paints in it (K = share K_paint + known_K, S likewise). In each band K and S are what makes the sum
//
//     chi2(K, S) = sum over readings ((predicted - read) / noise)^2,     K >= 0, S >= 0
//
// least, in what is seen through the skin, by damped Gauss-Newton steps from the best of a coarse grid.
//
// How well a band is known is told in two ways. `error` is the standard error of the linearised sum (from its
// Jacobian). `low` and `high` are where chi2, the other coefficient free to follow, has risen by kRise: two
// standard errors for a well-behaved band, and still honest where a film hides so well, or so little, that
// one side is open. The noise is raised by `scale` when the readings miss the fit by more than their stated
// noise, all bands taken together.
//
// Where the films may as well hide altogether (chi2 there has not risen by kDoubt, four standard errors) the
// readings fix only K/S, or nothing if they are of bare card: `high` is infinite. There S is carried over
// from the nearest bands that know it, or, if none does, made as weak as the readings allow; K follows. Such
// bands are `carried`.
//
// Source     the least squares and the rise of chi2: D. W. Marquardt 1963, J. Soc. Indust. Appl. Math.
//            11(2):431-441, doi:10.1137/0111030; profile of the sum: any text on likelihood (from memory)
// Holds for  effective K and S, one binder index, readings with independent errors; a ground's own error is
//            shared by its films, so it is added to each of them times the root of their number
// Accuracy   readings without noise return K and S to 1e-6 relative between contrast ratio 0.3 and 0.97
// Checks     tests/film/fit_test.cpp; tests/plan/card_fit_test.cpp for every paint of the shelf
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/colour/spectrum.h"
#include "fadewright/film/hiding.h"
#include "fadewright/film/surface.h"

#include <array>
#include <optional>
#include <span>
#include <vector>

namespace fadewright::film {

inline constexpr double kLimitRise = 4;    // of chi2, at low and high
inline constexpr double kOpaqueRise = 16;  // of chi2, below which an endless film is not ruled out

// One film, read in all bands.
struct DrawdownReading {
    Micrometres film;              // dry; infinite: so thick that no ground shows
    colour::Reflectance ground;    // below the film, inside the binder
    colour::Reflectance measured;  // as read through the skin
    double noise = 0.002;          // standard error of `seen`
    double ground_noise = 0;       // standard error of `ground`
    Share share{1.0};              // of the dry film that is the paint looked for
    colour::Absorption known_K;    // what the rest of the film adds, per micrometre of the whole film
    colour::Scattering known_S;
};

struct Estimate {
    double value = 0;
    double error = 0;          // infinite where the readings say nothing
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
    std::vector<colour::Reflectance> residuals;  // read less predicted, in the order of the readings
    double rms_error = 0;                        // of all residuals
    double noise_scale = 1;                      // by which the stated noise had to be raised
};

// At least one reading; noise above 0, films not negative, shares above 0 (contract).
[[nodiscard]] PaintFit fit_ks(std::span<const DrawdownReading> readings, SaundersonCorrection surface,
                              Specular specular, double rise = kLimitRise);

struct AbsorptionAndScatteringSpectra {
    colour::Absorption K;
    colour::Scattering S;
};

// A paint of which only the thick film's colour is known (inside) and how much film hides a card by the eye.
// S is taken as the same in every band. None if that colour never hides.
[[nodiscard]] std::optional<AbsorptionAndScatteringSpectra> ks_from_masstone(
    const colour::Reflectance& inside, Micrometres hiding_film, HidingChart chart,
    SaundersonCorrection surface, const colour::Spd& luminosity);

}  // namespace fadewright::film
