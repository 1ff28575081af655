// Gun fit: the footprint of a gun fitted to the film of one straight pass or one spot on a spray-pattern
// card.
//
// The film is known at many points of the card. The centre of the spray, its size, its taper and its amount
// of paint are fitted such that
//
//     chi2 = sum over points ((measured film - fitted film) / error)^2
//
// is minimal, where the fitted film is
//
//     pass   1000 w P(x - x0)              w landed paint per millimetre of travel, mm2; P of footprint.h
//     spot   1000 V f(x - x0, y - y0)      V landed paint, mm3; f of footprint.h
//
// by damped Gauss-Newton steps from the moments of the film, with several tapers tried first. A pass contains
// no information along its travel: none on a fan's thickness, and on its width and taper only that of their
// pass.
//
// Symbols    x across the travel, y along it, mm; film wet, um
// Source: [marquardt1963] (damped steps); moments of the pass of a fan, a^2 / (2 b1 + 2): own derivation.
// Holds for  one pass far from its ends, or one spot; points that include bare card on all sides of the
//            spray; tapers from kMinTaper to kMaxTaper, clamped there
// Accuracy   films without noise return sizes and amounts to 1e-5; `error` is one standard error, raised
//            where the residuals exceed the stated errors; points are taken as independent
// Checks     tests/calibration/gun_fit_test.cpp
#pragma once

#include "fadewright/spray/footprint.h"
#include "fadewright/spray/gun.h"

#include <cstddef>
#include <optional>
#include <span>

namespace fadewright::calibration {

inline constexpr double kMinTaper = 1.02;
inline constexpr double kMaxTaper = 20;

enum class ShotKind { pass, spot };

// The film at one point of the card; along_mm is ignored for a pass.
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
    spray::Pattern pattern = spray::Pattern::round;
    FittedValue across_mm, along_mm;           // centre of the spray
    FittedValue sigma_mm;                      // round
    FittedValue fan_width_mm, beta_across;     // fan
    FittedValue fan_thickness_mm, beta_along;  // fan, of a spot only
    FittedValue amount;                        // landed: mm2 of a pass, mm3 of a spot
    double rms_error_um = 0;                   // of the residuals
    double error_scale = 1;                    // by which the stated errors had to be raised
    bool taper_at_limit = false;               // a taper is clamped at kMinTaper or kMaxTaper
};

// None if there are too few readings, no film above their noise, or the fit does not converge.
[[nodiscard]] std::optional<GunFit> fit_gun(std::span<const FilmReading> readings, spray::Pattern pattern,
                                            ShotKind shot);

// The fitted film at a point; `footprint` is footprint_of(fit).
[[nodiscard]] spray::Footprint footprint_of(const GunFit& fit);
[[nodiscard]] double wet_um(const GunFit& fit, const spray::Footprint& footprint, double across_mm,
                            double along_mm) noexcept;

}  // namespace fadewright::calibration
