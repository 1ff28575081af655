// What a mix will look like, before the gun comes out.
//
// Coat by coat over black, white, grey and the job's own ground; how many coats hide; how the colour of a thin film
// differs from that of a thick one; the ratio of two colours that lands halfway to the eye; and the three middles of a
// fade with what they lose in chroma and turn in hue.
//
//     halfway      the ratio at which the mix is as far from A as from B in Lab (CIEDE2000 is made for small
//                  differences and jumps where two hues stand opposite)
//     chroma dip   chroma halfway along the straight road from A to B in Lab, less the middle's own
//     hue swing    hue angle of the middle less that of the same place on the straight road, -180 to 180 degrees
//
// Source     hiding: ISO 6504-3 in sense (contrast ratio 0.98; from memory); halfway and the two figures: defined here
// Holds for  hue swing is not given where either chroma is below kLeastChroma, where hue means nothing
// Checks     tests/film/outlook_test.cpp
#pragma once

#include "fadewright/film/colorimeter.h"
#include "fadewright/film/mid_colours.h"
#include "fadewright/paint/mix.h"

#include <optional>
#include <vector>

namespace fadewright::film {

inline constexpr double kMinChroma = 4.0;

// A white and a black card, as light inside the binder meets them (about 85 % and under 1 % seen in air), and a
// middle grey between them.
inline constexpr double kWhiteChart = 0.94;
inline constexpr double kBlackChart = 0.01;
inline constexpr double kGreyChart = 0.36;

struct DrawdownCoat {
    Micrometres film;  // of all coats so far
    colour::Lab over_white, over_grey, over_black, over_ground;
    double contrast_ratio = 0;  // luminous, black card over white card
};

struct DrawdownPrediction {
    colour::Lab masstone;
    colour::Lab undertone;  // a tenth of a coat's film over white: the undertone
    std::vector<DrawdownCoat> coats;
    std::optional<Micrometres> film_to_hide;  // none: it never hides
    std::optional<int> coats_to_hide;
};

// coat: dry film of one coat. count: how many coats to show.
[[nodiscard]] DrawdownPrediction predict_drawdown(const paint::MixedPaint& mix, Micrometres coat, int count,
                                                  const colour::Reflectance& ground,
                                                  const Colorimeter& colorimeter);

struct VisualMidpoint {
    double parts_of_b = 1;  // wet parts of B to one wet part of A
    colour::Lab lab;
    double distance_from_a = 0, distance_from_b = 0;  // distance in Lab; equal but for the search's end
};

// Of two colours laid until they hide. None if they look alike (under one CIEDE2000 apart).
[[nodiscard]] std::optional<VisualMidpoint> visual_midpoint(std::span<const paint::Part> a,
                                                            std::span<const paint::Part> b,
                                                            const Colorimeter& colorimeter);

struct MidColourFigures {
    colour::Lab lab;
    double chroma_loss = 0;
    std::optional<double> hue_shift_deg;
};

struct MidColourComparison {
    colour::Lab a, b;  // the two ends, as laid
    MidColourFigures premixed, glazed, stippled;
};

[[nodiscard]] MidColourComparison compare_mid_colours(const MidColourInput& middle,
                                                      const colour::Reflectance& ground,
                                                      const Colorimeter& colorimeter);

// How a middle departs from the straight road between two ends.
[[nodiscard]] MidColourFigures path_deviation(const colour::Lab& a, const colour::Lab& b,
                                              const colour::Lab& middle);

}  // namespace fadewright::film
