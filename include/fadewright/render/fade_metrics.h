// How good a fade is: figures of the colours along a line across it, and what an eye sees of them.
//
// The line starts in one colour and ends in the other. How far the fade has come at a place is the share
//
//     t = dE(start) / (dE(start) + dE(end))         dE the plain distance in Lab to the two end colours
//
// Its width runs from t = 10 % to t = 90 %; where noise or a stripe makes it cross a share more than once, the
// middle of the first and the last crossing counts. Every other figure and its convention:
//
//     slopes      of a straight line laid over 1/10 of the width; dE00 to the mm by the change along that line,
//                 as small pieces of CIEDE2000 add up
//     over mean   the steepest slope over the mean one, in Lab, both between t = 10 % and 90 %: 1 for a straight
//                 ramp, 1.159 for half a cosine, 1.278 for a blurred edge. (Over the whole half cosine, foot to
//                 head, it would be pi / 2; a blurred edge has no foot)
//     step        the greatest dE00 between two places kRampIsStep (colour/visibility.h) apart: what lies closer
//                 together the eye takes for one edge
//     bands       L* less a smooth fit, as contrast, through the eye's sensitivity; its peak is 1 where a
//                 stripe is just seen. The fit is (1 - (1 - G)^5) L*, G a Gaussian of 1/8 of the width: of stripes a
//                 width apart 0.1 % are left as bands, of those 1/3 of it apart 73 %, 1/4 of it 96 %. A corner sharp
//                 enough to be seen as a line counts as well. The ends of the line, 1/4 of the width, are not
//                 judged
//     corner      kappa = most |w L''| / most |L'|, both through a Gaussian of w = 1/10 of the width: 0.399 for
//                 a straight ramp between flats, 0.15 for a blurred edge. Bright or dark lines (Mach bands) come
//                 with sharp corners, whatever the contrast
//     dip, swing  against the straight road in Lab from end to end, at the nearest place of that road
//     back-step   the deepest fall of L* on a way up, or rise on a way down, whichever is less
//
// Symbols    Lab under the light and white of the given colours; mm along the line; degrees at the eye
// Source: [barten1999] (banding), [wallis2012] (corners and Mach bands); the rest is our own derivation.
// Holds for  end colours at least kLeastFade apart; 20 places or more across the width, for bands as many across
//            a stripe; a panel seen square on, ends as in colour/visibility.h. Grain from place to place counts
//            as stripes. A pure change of hue has no bands or corners here: they are of lightness alone
// Accuracy   2 % from 400 to 1600 places on a line of five widths; widths of known shapes 0.1 %; stripes of 1 to
//            12 cycles/deg 1.5 %, up to 5 % where they run off the line; blurred edges leave less than 0.05 of
//            bands, half a cosine's foot 0.7 to 1.6 of 40 L*; from either end the same
// Checks     tests/render/fade_figures_test.cpp
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/colour/lab.h"
#include "fadewright/colour/visibility.h"
#include "fadewright/text/display_units.h"

#include <optional>
#include <span>
#include <string>
#include <vector>

namespace fadewright::render {

struct FadeSample {
    double position_mm = 0;  // increasing along the line, steps as wanted
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
    double slope_over_threshold = 0;  // of a wide ramp's slope (colour/visibility.h); below 1 no fade is seen

    // Steps and bands.
    double largest_step = 0;            // dE00
    Millimetres largest_step_at;        // its middle
    double banding_over_threshold = 0;  // the margin: 1 where a stripe is just seen
    Millimetres banding_at;
    colour::Visibility banding = colour::Visibility::invisible;

    // Corners of the lightness.
    double abruptness = 0;  // kappa
    Millimetres abruptness_at;

    // The road through the colours.
    double chroma_loss = 0;        // C*ab below the straight road
    double chroma_loss_share = 0;  // of the road's chroma there
    Millimetres chroma_loss_at;
    Degrees hue_shift;  // greatest, without sign
    Millimetres hue_shift_at;
    double reversal = 0;      // L*
    Millimetres reversal_at;  // where it ends, seen from the start
};

inline constexpr double kMinFade_dE = 1;    // dE between the end colours
inline constexpr double kMinHueChroma = 5;  // below it hue is not judged

// Nothing where the ends are closer than kLeastFade: there is no fade to judge. Three places or more, in order
// (contract).
[[nodiscard]] std::optional<FadeMetrics> fade_metrics(std::span<const FadeSample> samples,
                                                      const ViewCondition& view = {});

// What the figures say, a sentence each, for a painter. Which words go with which figure is ours and
// uncalibrated.
[[nodiscard]] std::vector<std::string> describe_fade(const FadeMetrics& metrics, DisplayUnits units = {});

}  // namespace fadewright::render
