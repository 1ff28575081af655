// The middle of a fade from A to B, made in three ways that do not look alike.
//
//     cup     A and B poured together, the mix laid over the ground: K and S average, pigments shade each
//     other film    A laid first, then B over it as a thin continuous film: light crosses all of B, both ways
//     dots    A laid first, then as much B as fog: droplets that dry before they join, so that eye and panel
//             average the light of bare and covered places
//
// A yellow and a blue make a dark green in the cup, a green as a film, and a pale dull olive as dots. Dots
// tend to the film as the splats become fine; with opaque splats they are the average of the two colours by
// area.
//
// All three are inside the finish (film/stack.h puts the skin on).
//
// Source     film/layer.h; dots kernels/layer_stack.h
// Checks     tests/film/middles_test.cpp
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/colour/spectrum.h"
#include "fadewright/paint/mix.h"

#include <span>

namespace fadewright::film {

struct MidColourInput {
    std::span<const paint::Part> a;  // the colour laid first
    std::span<const paint::Part> b;  // the colour that takes over
    Share b_in_mix{0.5};             // of the dry film of the mix
    Micrometres film{20};            // dry film of A below, and of the mix from the cup
    Micrometres b_film{10};          // dry film of B over A, continuous or on average over the dots
    Micrometres splat{2};            // mean dry thickness of one droplet of B
};

struct MidColours {
    colour::Reflectance premixed;
    colour::Reflectance glazed;
    colour::Reflectance stippled;
};

[[nodiscard]] MidColours mid_colours(const MidColourInput& input, const colour::Reflectance& ground);

}  // namespace fadewright::film
