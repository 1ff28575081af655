// Milk: from where on more of a paint with flakes gains lightness but no colour.
//
// Over black a few flakes show their colour, more show more of it; then those above cover those below, and
// what the film scatters to all sides is added on top: chroma has a greatest value, lightness has none.
//
//     best     the step with the greatest chroma, if at least kMilkChroma: silver and white have no colour to lose
//     milk     chroma falls from the best to the step after it, and lightness rises from there to the last
//
// Source     defined here; that over-applied interference colour turns milky: common practice, no source
// Holds for  steps in rising order of coats, film or loading
// Checks     tests/film/milk_test.cpp, tests/plan/effects_test.cpp
#pragma once

#include "fadewright/colour/lab.h"

#include <cstddef>
#include <optional>
#include <span>

namespace fadewright::film {

inline constexpr double kMinPeakChroma = 10;

// The best step; none if chroma still rises at the last, or lightness does not rise beyond the best.
[[nodiscard]] std::optional<std::size_t> chroma_peak(std::span<const colour::Lab> steps);

}  // namespace fadewright::film
