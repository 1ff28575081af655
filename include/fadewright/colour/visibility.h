// What an eye can just see of light and dark on a panel.
//
// Stripes, steps and slopes are seen by their size at the eye (degrees) and by their contrast. The least
// contrast of a fine or broad stripe follows from the noise in the eye, its blur and how it evens out broad
// changes; a single step is judged as one half of a square stripe, and a ramp as a step until it is wider than
// the eye takes in at one go.
//
//     M           modulation of a stripe: (most - least) / (most + least) luminance
//     S(u)        sensitivity, one over the least modulation seen at u cycles per degree
//     step        contrast dY / Y of a step just seen = 2 M / 1.27, M the least of all u
//     ramp        a step up to kRampIsStep wide; beyond it seen by its slope, step / kRampIsStep
//     lightness   dL* = (L* + 16) / 3  dY / Y, near black L* dY / Y
//     stripes     u = 17.45 D / s, D the viewing distance in m, s their spacing in mm
//
// Symbols    luminance in cd/m2; field in degrees across; E retinal illuminance in trolands; d pupil in mm
// Source: [barten1999] (sensitivity), [degroot1952] (pupil), [itu2246] (step from modulation), [campbell1981]
//            (ramps and slopes: the law of its abstract, its threshold replaced by the step above), [cie15]
//            (slope of lightness).
// Holds for  both eyes, average observers, a plain ground; 0.1 to 10 000 cd/m2, 0.05 to 40 cycles/deg. Trained
//            observers who must decide saw stripes at 0.51 of this contrast with a spread of 0.18
//            [tchou2004]; on a patterned ground it takes several times as much. The pupil takes the
//            natural logarithm, which the check values go with; with the common one it is 3.5 mm instead of
//            2.4 mm at 100 cd/m2 and 20 degrees, and stripes coarser than 4 cycles/deg are seen 1 % earlier
// Accuracy   the printed check values to every digit, the printed thresholds within half their last digit; as a
//            forecast for one eye a factor of two either way
// Checks     tests/colour/visibility_test.cpp, tests/published/barten_thresholds.csv
#pragma once

#include "fadewright/base/quantity.h"

#include <string_view>

namespace fadewright::colour {

// What the eye looks at.
struct VisualField {
    double luminance_cd_per_m2 = 100;
    Degrees across{20};
};

[[nodiscard]] Millimetres pupil_diameter(const VisualField& field);
[[nodiscard]] double retinal_illuminance_td(double luminance_cd_per_m2, Millimetres pupil_mm);

// With the eye's own pupil for the field, or with a given pupil and illuminance.
[[nodiscard]] double contrast_sensitivity(double cycles_per_deg, const VisualField& field = {});
[[nodiscard]] double contrast_sensitivity(double cycles_per_deg, Millimetres pupil_mm,
                                          double retinal_illuminance_td, Degrees across);

[[nodiscard]] double threshold_modulation(double cycles_per_deg, const VisualField& field = {});

// dY / Y of a sharp step, and of a ramp so wide, that is just seen.
[[nodiscard]] double step_from_modulation(double modulation) noexcept;
[[nodiscard]] double threshold_step(const VisualField& field = {});
[[nodiscard]] double threshold_ramp(Degrees width, const VisualField& field = {});

inline constexpr Degrees kRampAsStepWidth{0.5};

// dY / Y per degree of a wide ramp that is just seen.
[[nodiscard]] double threshold_slope_per_deg(const VisualField& field = {});

// dL* of a small contrast dY / Y about L*, and back. L* >= 0; back, L* > 0 (contract).
[[nodiscard]] double lightness_step(double L, double contrast);
[[nodiscard]] double contrast_of_lightness_step(double L, double lightness_step);

// On a panel seen square on.
[[nodiscard]] Millimetres millimetres_per_degree(Millimetres viewing_distance);
[[nodiscard]] double cycles_per_degree(Millimetres viewing_distance, Millimetres spacing);

// Times the threshold, in words. Below kTrainedEye times it nobody sees it, above one over that everybody.
enum class Visibility { invisible, just_visible, visible };

inline constexpr double kTrainedThreshold = 0.51;  // Source: [tchou2004].

[[nodiscard]] Visibility visibility(double times_threshold) noexcept;
[[nodiscard]] std::string_view visibility_label(Visibility visibility) noexcept;

}  // namespace fadewright::colour
