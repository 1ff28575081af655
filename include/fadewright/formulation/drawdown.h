// Predicted drawdown of a mix.
//
// Coat by coat over black, white, grey and the job's own ground: coats and film to hide, masstone and
// undertone. For two colours: the mixing ratio of the visual midpoint, and the three mid colours of a fade
// with their loss of chroma and their hue shift.
//
//     midpoint     the ratio at which the mix is as far from A as from B in Lab (CIEDE2000 is made for small
//                  differences and is discontinuous between opposite hues)
//     chroma loss  chroma at the middle of the straight line from A to B in Lab, less that of the mid colour
//     hue shift    hue angle of the mid colour less that of the middle of the straight line, -180 to 180
//                  degrees
//
// Source: [iso6504-3] in sense (hiding at contrast ratio 0.98); midpoint and the two figures: own derivation.
// Holds for  hue shift only where both chromas reach colour::kMinMidColourChroma; below, hue means nothing
// Checks     tests/formulation/drawdown_test.cpp
#pragma once

#include "fadewright/colour/lab.h"
#include "fadewright/film/colorimeter.h"
#include "fadewright/formulation/mid_colours.h"
#include "fadewright/paint/mix.h"

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace fadewright::formulation {

// Reflectances of a white and a black chart inside the binder (about 85 % and under 1 % measured in air), and
// of a mid-grey between them.
inline constexpr double kWhiteChart = 0.94;
inline constexpr double kBlackChart = 0.01;
inline constexpr double kGreyChart = 0.36;

// Film of full hiding (hiding.h) over that chart, as viewed; none: the mix never hides.
[[nodiscard]] std::optional<Micrometres> full_hiding_film(const paint::MixedPaint& mix,
                                                          const film::Colorimeter& colorimeter);
// Whole coats of that dry film; none without one of the films.
[[nodiscard]] std::optional<int> coats_to_hide(std::optional<Micrometres> film_to_hide, Micrometres coat);

// Film below which the mix over black is visibly bluer than its masstone; none if it never is.
[[nodiscard]] std::optional<Micrometres> bluish_below(const paint::MixedPaint& mix,
                                                      const film::Colorimeter& colorimeter);

struct DrawdownCoat {
    Micrometres film;  // of all coats so far
    colour::Lab over_white, over_grey, over_black, over_ground;
    double contrast_ratio = 0;  // of luminous reflectances, over the black to over the white chart
};

struct DrawdownPrediction {
    colour::Lab masstone;
    colour::Lab undertone;  // a tenth of one coat's film over white
    std::vector<DrawdownCoat> coats;
    std::optional<Micrometres> film_to_hide;  // none: it never hides
    std::optional<int> coats_to_hide;
};

// coat: dry film of one coat. count: number of coats.
[[nodiscard]] DrawdownPrediction predict_drawdown(const paint::MixedPaint& mix, Micrometres coat, int count,
                                                  const colour::Reflectance& ground,
                                                  const film::Colorimeter& colorimeter);

struct VisualMidpoint {
    double parts_of_b = 1;  // wet parts of B to one wet part of A
    colour::Lab lab;
    double distance_from_a = 0, distance_from_b = 0;  // in Lab; equal within the search's tolerance
};

// Of two colours at full hiding. None if they hardly differ (less than one CIEDE2000).
[[nodiscard]] std::optional<VisualMidpoint> visual_midpoint(std::span<const paint::Part> a,
                                                            std::span<const paint::Part> b,
                                                            const film::Colorimeter& colorimeter);

struct MidColourFigures {
    colour::Lab lab;
    double chroma_loss = 0;
    std::optional<double> hue_shift_deg;
};

struct MidColourComparison {
    colour::Lab a, b;  // the two ends of the fade, as sprayed
    MidColourFigures premixed, glazed, stippled;
};

[[nodiscard]] MidColourComparison compare_mid_colours(const MidColourInput& input,
                                                      const colour::Reflectance& ground,
                                                      const film::Colorimeter& colorimeter);

// Deviation of a mid colour from the straight line between the two ends in Lab.
[[nodiscard]] MidColourFigures path_deviation(const colour::Lab& a, const colour::Lab& b,
                                              const colour::Lab& mid_colour);

// Chroma peak: beyond it, more of an effect paint adds whiteness but no colour (the coat turns milky).
//
// Over black, chroma first rises with the number of flakes. Then the upper flakes cover the lower ones and
// the diffusely scattered light adds up: chroma passes through a maximum, lightness does not.
//
//     peak     the step with the greatest chroma, if at least kMinPeakChroma (silver and white have little)
//     milky    chroma falls from the peak to the next step, and lightness rises from there to the last step
//
// Source: own derivation; that over-applied interference colour turns milky: common practice, no source.
// Holds for  steps in increasing order of coats, film or loading
// Checks     tests/formulation/chroma_peak_test.cpp, tests/plan/effects_test.cpp

inline constexpr double kMinPeakChroma = 10;

// Index of the peak; none if chroma still rises at the last step, or lightness does not rise beyond the peak.
[[nodiscard]] std::optional<std::size_t> chroma_peak(std::span<const colour::Lab> steps);

}  // namespace fadewright::formulation
