// Mid colours of a fade from A to B, made in three ways that look different.
//
//     premixed   A and B mixed in the cup and sprayed over the ground: K and S average, the pigments shade
//                each other
//     glazed     A first, then B over it as a thin continuous film: light crosses all of B, on both ways
//     stippled   A first, then as much B as dry spray: droplets that dry before they join, so that the light
//                of bare and covered area averages
//
// A yellow and a blue make a dark green premixed, a green glazed, and a pale dull olive stippled. Stippled
// tends to glazed as the splats become fine; with opaque splats it is the area average of the two colours.
//
// All three are inside the finish (film/stack.h adds the surface).
//
// Source: [kubelka1948], [kubelka1954]; dots: own derivation.
// Checks     tests/formulation/mid_colours_test.cpp
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/colour/spectrum.h"
#include "fadewright/paint/mix.h"

#include <span>

namespace fadewright::formulation {

struct MidColourInput {
    std::span<const paint::Part> a;  // the colour sprayed first
    std::span<const paint::Part> b;  // the colour it fades to
    Share b_in_mix{0.5};             // of the dry film of the mix
    Micrometres film{20};            // dry film of A below, and of the mix
    Micrometres b_film{10};          // dry film of B over A, continuous or on average over the dots
    Micrometres splat{2};            // mean dry thickness of one droplet of B
};

struct MidColours {
    colour::Reflectance premixed;
    colour::Reflectance glazed;
    colour::Reflectance stippled;
};

[[nodiscard]] MidColours mid_colours(const MidColourInput& input, const colour::Reflectance& ground);

}  // namespace fadewright::formulation
