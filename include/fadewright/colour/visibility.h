// Visible thresholds of lightness contrast on a panel.
//
// The visibility of stripes, steps and ramps depends on their size at the eye (degrees) and on their
// contrast. The threshold contrast of stripes follows from the eye's noise, its blur and its lateral
// inhibition of broad changes; a single step is judged as one half of a square wave, and a ramp as a step up
// to a limiting width.
//
//     M           modulation of stripes: (max - min) / (max + min) luminance
//     S(u)        contrast sensitivity: 1 / (threshold modulation at u cycles per degree)
//     step        threshold contrast dY / Y of a step = 2 M / 1.27, M the lowest threshold of all u
//     ramp        a step up to kRampAsStepWidth wide; wider ones by their slope, step / kRampAsStepWidth
//     lightness   dL* = (L* + 16) / 3  dY / Y, near black L* dY / Y
//     stripes     u = 17.45 D / s, D the viewing distance in m, s their spacing in mm
//
// Symbols    luminance in cd/m2; field in degrees across; E retinal illuminance in trolands; d pupil in mm
// Source: [barten1999] (sensitivity), [degroot1952] (pupil), [itu2246] (step from modulation), [campbell1981]
//            (ramps and slopes: the law of its abstract, its threshold replaced by the step above), [cie15]
//            (slope of lightness).
// Holds for  both eyes, average observers, a uniform surround; 0.1 to 10 000 cd/m2, 0.05 to 40 cycles/deg.
//            Trained observers who must decide saw stripes at 0.51 of this contrast with a spread of 0.18
//            [tchou2004]; on a patterned surround the threshold is several times as high. The pupil uses the
//            natural logarithm, as the check values require; with the decimal one it is 3.5 mm instead of
//            2.4 mm at 100 cd/m2 and 20 degrees, and stripes coarser than 4 cycles/deg have a 1 % lower
//            threshold
// Accuracy   the printed check values to every digit, the printed thresholds within half their last digit; as
//            a prediction for one person a factor of two either way
// Checks     tests/colour/visibility_test.cpp, tests/published/barten_thresholds.csv
#pragma once

#include "fadewright/base/quantity.h"

#include <vector>

namespace fadewright::colour {

// The adaptation of the eye.
struct VisualField {
    double luminance_cd_per_m2 = 100;
    Degrees across{20};
};

[[nodiscard]] Millimetres pupil_diameter(const VisualField& field);
[[nodiscard]] double retinal_illuminance_td(double luminance_cd_per_m2, Millimetres pupil_mm);

// With the pupil calculated for the field, or with a given pupil and illuminance.
[[nodiscard]] double contrast_sensitivity(double cycles_per_deg, const VisualField& field = {});
[[nodiscard]] double contrast_sensitivity(double cycles_per_deg, Millimetres pupil_mm,
                                          double retinal_illuminance_td, Degrees across);

[[nodiscard]] double threshold_modulation(double cycles_per_deg, const VisualField& field = {});

// Threshold contrast dY / Y of a sharp step, and of a ramp of that width.
[[nodiscard]] double step_from_modulation(double modulation) noexcept;
[[nodiscard]] double threshold_step(const VisualField& field = {});
[[nodiscard]] double threshold_ramp(Degrees width, const VisualField& field = {});

inline constexpr Degrees kRampAsStepWidth{0.5};

// Threshold slope of a wide ramp, dY / Y per degree.
[[nodiscard]] double threshold_slope_per_deg(const VisualField& field = {});

// dL* of a small contrast dY / Y at L*, and its inverse. L* >= 0; for the inverse L* > 0 (contract).
[[nodiscard]] double lightness_step(double L, double contrast);
[[nodiscard]] double contrast_of_lightness_step(double L, double lightness_step);

// On a panel viewed at a right angle.
[[nodiscard]] Millimetres millimetres_per_degree(Millimetres viewing_distance);
[[nodiscard]] double cycles_per_degree(Millimetres viewing_distance, Millimetres spacing);

// A multiple of the threshold, rated. Below kTrainedThreshold nobody sees it, above its inverse everybody.
enum class Visibility { invisible, just_visible, visible };

inline constexpr double kTrainedThreshold = 0.51;  // Source: [tchou2004].

[[nodiscard]] Visibility visibility(double times_threshold) noexcept;

// Filter for banding along a line: lightness minus a smooth fit, weighted by the contrast sensitivity of the
// eye.
//
//     response(x) = sum over k of weights[|k|] L*(x + k step)
//
// The smooth fit is (1 - (1 - G)^5) L*, G a Gaussian; the residual is filtered by the contrast sensitivity S
// (colour/visibility.h), so that the response, as contrast dY / Y of L*, is in multiples of the visible
// threshold. A uniform colour has a response of 0.
//
// Symbols    angles in degrees at the eye
// Source: [barten1999] (contrast sensitivity S); the fit is our own derivation.
// Holds for  steps much shorter than the bands; weights extend over 10 standard deviations and 2 degrees
// Checks     tests/assess/fade_metrics_test.cpp

inline constexpr double kMaxFrequency_per_deg = 60;  // the sensitivity above it is negligible
// Standard deviation of the Gaussian, as a share of the 10 to 90 % width of the fade.
inline constexpr double kFitWidthShare = 1.0 / 8;
// Banding is not assessed at either end of a line, over this share of the 10 to 90 % width of the fade.
inline constexpr double kUnassessedShare = 0.25;
inline constexpr double kMinBanding_L = 1;  // darker colours count as this L*

// For a fit of that standard deviation, from the centre outwards; the filter is symmetric.
[[nodiscard]] std::vector<double> banding_filter(double fit_deg, double step_deg, const VisualField& field);

}  // namespace fadewright::colour
