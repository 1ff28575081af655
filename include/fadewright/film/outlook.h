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

#include "fadewright/film/looker.h"
#include "fadewright/film/middles.h"
#include "fadewright/paint/mix.h"

#include <optional>
#include <vector>

namespace fadewright::film {

inline constexpr double kLeastChroma = 4.0;

// A white and a black card, as light inside the binder meets them (about 85 % and under 1 % seen in air), and a
// middle grey between them.
inline constexpr double kWhiteCard = 0.94;
inline constexpr double kBlackCard = 0.01;
inline constexpr double kGreyCard = 0.36;

struct CoatLook {
    Micrometres film;  // of all coats so far
    colour::Lab over_white, over_grey, over_black, over_ground;
    double contrast_ratio = 0;  // luminous, black card over white card
};

struct Outlook {
    colour::Lab masstone;
    colour::Lab thin;  // a tenth of a coat's film over white: the undertone
    std::vector<CoatLook> coats;
    std::optional<Micrometres> film_to_hide;  // none: it never hides
    std::optional<int> coats_to_hide;
};

// coat: dry film of one coat. count: how many coats to show.
[[nodiscard]] Outlook outlook(const paint::MixedPaint& mix, Micrometres coat, int count,
                              const colour::Reflectance& ground, const Looker& looker);

struct Halfway {
    double parts_of_b = 1;  // wet parts of B to one wet part of A
    colour::Lab lab;
    double from_a = 0, from_b = 0;  // distance in Lab; equal but for the search's end
};

// Of two colours laid until they hide. None if they look alike (under one CIEDE2000 apart).
[[nodiscard]] std::optional<Halfway> halfway(std::span<const paint::Part> a, std::span<const paint::Part> b,
                                             const Looker& looker);

struct MiddleLook {
    colour::Lab lab;
    double chroma_dip = 0;
    std::optional<double> hue_swing_deg;
};

struct MiddleLooks {
    colour::Lab a, b;  // the two ends, as laid
    MiddleLook cup, film, dots;
};

[[nodiscard]] MiddleLooks middle_looks(const Middle& middle, const colour::Reflectance& ground,
                                       const Looker& looker);

// How a middle departs from the straight road between two ends.
[[nodiscard]] MiddleLook departure(const colour::Lab& a, const colour::Lab& b, const colour::Lab& middle);

}  // namespace fadewright::film
