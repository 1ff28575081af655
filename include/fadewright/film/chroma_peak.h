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
// Checks     tests/film/chroma_peak_test.cpp, tests/plan/effects_test.cpp
#pragma once

#include "fadewright/colour/lab.h"

#include <cstddef>
#include <optional>
#include <span>

namespace fadewright::film {

inline constexpr double kMinPeakChroma = 10;

// Index of the peak; none if chroma still rises at the last step, or lightness does not rise beyond the peak.
[[nodiscard]] std::optional<std::size_t> chroma_peak(std::span<const colour::Lab> steps);

}  // namespace fadewright::film
