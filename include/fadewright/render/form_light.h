// Light on a form: how much brighter or darker a sloping place looks than a flat one.
//
// A soft light from everywhere in front of the piece and a wide lamp from the upper left, mixed so that a flat
// place that faces the eye counts as 1: its colour is the one that sections and figures give.
//
//     s(n) = [A (1 + n_z)/2 + (1 - A) max(0, n.l)] / [A + (1 - A) l_z]
//
// Symbols    n the surface's normal, z towards the eye, y up; l towards the lamp; A = kSoftShare
// Source     cosine law for a matt surface under a lamp and under a hemisphere of even light; the mixture and
//            the lamp's place are our choice
// Holds for  showing a form, not for judging colour on it; no cast shadows, no shine
// Checks     tests/render/form_light_test.cpp
#pragma once

#include "fadewright/spray/relief.h"

namespace fadewright::render {

inline constexpr double kSoftShare = 0.55;

[[nodiscard]] double form_light(const spray::Slope& surface) noexcept;

}  // namespace fadewright::render
