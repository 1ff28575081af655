// A gun from the film it laid: the footprint that one straight pass or one still spot shows.
//
// The film is known at many places of the card. Looked for are the middle of the spray, its size, its taper
// and how much paint landed, such that
//
//     chi2 = sum over places ((film there - film laid) / error)^2
//
// is least, where the film laid is
//
//     pass   1000 w P(x - x0)              w landed paint per millimetre of travel, mm2; P of footprint.h
//     spot   1000 V f(x - x0, y - y0)      V landed paint, mm3; f of footprint.h
//
// by damped Gauss-Newton steps from the moments of the film, several tapers tried first. A pass shows nothing
// along itself: of a fan's depth it says nothing, and of its width and taper only their pass.
//
// Symbols    x across the travel, y along it, mm; film wet, um
// Source: [marquardt1963] (damped steps); moments of the pass of a fan, a^2 / (2 b1 + 2): own derivation.
// Holds for  one pass far from its ends, or one spot; places that see the bare card on all sides of the spray;
//            tapers from kLeastTaper to kMostTaper, held there if they lie beyond
// Accuracy   films without noise give sizes and amounts back to 1e-5; `error` is one standard error, raised
//            where the places miss the fit by more than their own errors; places are taken as independent
// Checks     tests/spray/gun_fit_test.cpp
#pragma once

#include "fadewright/spray/footprint.h"
#include "fadewright/spray/gun.h"

#include <cstddef>
#include <optional>
#include <span>

namespace fadewright::spray {

inline constexpr double kMinTaper = 1.02;
inline constexpr double kMaxTaper = 20;

enum class ShotKind { pass, spot };

// The film at one place of the card; along means nothing for a pass.
struct FilmReading {
    double across_mm = 0;
    double along_mm = 0;
    double wet_um = 0;
    double error_um = 1;  // one standard error, above 0 (contract)
};

struct FittedValue {
    double value = 0;
    double error = 0;  // one standard error
};

struct GunFit {
    ShotKind shot = ShotKind::pass;
    Pattern pattern = Pattern::round;
    FittedValue across_mm, along_mm;           // middle of the spray
    FittedValue sigma_mm;                      // round
    FittedValue fan_width_mm, beta_across;     // fan
    FittedValue fan_thickness_mm, beta_along;  // fan, of a spot only
    FittedValue amount;                        // landed: mm2 of a pass, mm3 of a spot
    double rms_error_um = 0;                   // of what the fit misses
    double error_scale = 1;                    // by which the stated errors had to be raised
    bool taper_at_limit = false;               // a taper lies at the end of what is allowed
};

// Nothing if there are too few places, no film stands out of them, or no size settles.
[[nodiscard]] std::optional<GunFit> fit_gun(std::span<const FilmReading> readings, Pattern pattern,
                                            ShotKind shot);

// The fitted film at a place; `footprint` is footprint_of(fit).
[[nodiscard]] Footprint footprint_of(const GunFit& fit);
[[nodiscard]] double wet_um(const GunFit& fit, const Footprint& footprint, double across_mm,
                            double along_mm) noexcept;

}  // namespace fadewright::spray
