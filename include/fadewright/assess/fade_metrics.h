// Quality figures of a fade: computed from the colours along a line across it, and what the eye sees of them.
//
// The line starts in one colour and ends in the other. The progress of the fade at a point is the share
//
//     t = dE(start) / (dE(start) + dE(end))         dE the Euclidean distance in Lab to the two end colours
//
// Its width is from t = 10 % to t = 90 %; where noise or a stripe makes it cross a level more than once, the
// mean of the first and the last crossing counts. The other figures and their conventions:
//
//     slopes          of a straight line fitted over 1/10 of the width; dE00 per mm by the change along that
//                     line, as small differences of CIEDE2000 add up
//     over mean       the steepest slope over the mean slope, in Lab, both between t = 10 % and 90 %: 1 for a
//                     linear ramp, 1.159 for half a cosine, 1.278 for a blurred edge. (Over the whole half
//                     cosine, from end to end, it would be pi / 2; a blurred edge has no ends)
//     step            the largest dE00 between two points kRampAsStepWidth (colour/visibility.h) apart: the
//                     eye takes anything narrower for one edge
//     banding         L* minus a smooth fit, as contrast, through the contrast sensitivity of the eye; its
//                     peak is 1 where a stripe is just visible. The fit is (1 - (1 - G)^5) L*, G a Gaussian
//                     of 1/8 of the width: of stripes one width apart 0.1 % remain as banding, of those 1/3
//                     of it apart 73 %, 1/4 of it 96 %. A corner sharp enough to be seen as a line counts as
//                     well. The ends of the line, 1/4 of the width each, are not assessed
//     abruptness      kappa = max |w L''| / max |L'|, both through a Gaussian of w = 1/10 of the width: 0.399
//                     for a linear ramp between flats, 0.15 for a blurred edge. Light or dark lines (Mach
//                     bands) come with sharp corners, whatever the contrast
//     chroma loss     against the straight line in Lab from end to end (straight blend), at its nearest point
//     hue shift       against the same line, where both chromas are above colour::kMinFadeChroma
//     reversal        the largest fall of L* in an increasing fade, or rise in a decreasing one, whichever is
//                     smaller
//
// Symbols    Lab under the light and white of the given colours; mm along the line; degrees at the eye
// Source: [barten1999] (banding), [wallis2012] (corners and Mach bands); the rest is our own derivation.
// Holds for  end colours at least colour::kIndistinguishable_dE apart; 20 samples or more across the width, for banding as many
//            across a stripe; a panel viewed at right angles, limits as in colour/visibility.h. Noise from
//            sample to sample counts as banding. A pure change of hue has no banding or abruptness here: they
//            are of lightness alone
// Accuracy   2 % from 400 to 1600 samples on a line of five widths; widths of known shapes 0.1 %; stripes of
//            1 to 12 cycles/deg 1.5 %, up to 5 % where they run off the line; blurred edges leave a banding
//            below 0.05, the ends of half a cosine 0.7 to 1.6 at 40 L*; the same from either end
// Checks     tests/assess/fade_metrics_test.cpp
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/colour/lab.h"
#include "fadewright/colour/visibility.h"

#include <optional>
#include <span>
#include <vector>

namespace fadewright::assess {

struct FadeSample {
    double position_mm = 0;  // increasing along the line, in any steps
    colour::Lab lab;
};

struct ViewCondition {
    Millimetres distance{1000};
    colour::VisualField field;  // 100 cd/m2 over 20 degrees
};

struct FadeMetrics {
    ViewCondition view;

    // Width.
    Millimetres width;  // from t = 10 % to t = 90 %
    Degrees angular_width;
    Millimetres at_10, at_half, at_90;

    // Slope.
    double steepest_per_mm = 0, steepest_per_deg = 0;  // dE00
    Millimetres steepest_at;
    double mean_per_mm = 0;  // dE00, from t = 10 % to t = 90 %
    double steepest_over_mean = 0;
    double steepest_L_per_deg = 0;
    Millimetres steepest_L_at;
    double slope_over_threshold = 0;  // of a wide ramp (colour/visibility.h); below 1 the fade is invisible

    // Steps and banding.
    double largest_step = 0;            // dE00
    Millimetres largest_step_at;        // its centre
    double banding_over_threshold = 0;  // 1 where a stripe is just visible
    Millimetres banding_at;
    colour::Visibility banding = colour::Visibility::invisible;

    // Abruptness of the lightness.
    double abruptness = 0;  // kappa
    Millimetres abruptness_at;

    // The path through the colours.
    double chroma_loss = 0;        // C*ab below the straight blend
    double chroma_loss_share = 0;  // of the chroma of the straight blend at that point
    Millimetres chroma_loss_at;
    Degrees hue_shift;  // maximum of the absolute value
    Millimetres hue_shift_at;
    double reversal = 0;      // L*
    Millimetres reversal_at;  // its end, from the start of the line
};

// Nothing if the ends are closer than colour::kIndistinguishable_dE. Three samples or more, in order (contract).
[[nodiscard]] std::optional<FadeMetrics> fade_metrics(std::span<const FadeSample> samples,
                                                      const ViewCondition& view = {});

}  // namespace fadewright::assess
