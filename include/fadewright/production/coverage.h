// Coverage: the arithmetic between area, film, volume and weight.
//
// 1 m2 x 1 um = 1 mL. Of the sprayed paint the share t lands, and of that the share VS remains when dry, so
//
//     mL to spray = area x film / (VS t)             area = mL VS t / film
//     wet film    = film (1 + r) / VS                thinned with r volumes to one of paint of solids VS
//     passes over a point = 1 / (1 - overlap)
//     error of one weighing = half a division of the scale over the amount
//
// Both solids and transfer efficiency are in the numerator of the area: less of either covers less.
//
// Symbols    film dry, um; area m2; VS volume solids; t transfer efficiency
// Source: own derivation; the gallon and the square foot by their legal definitions (231 cubic inches; 0.3048
//            m) [nistSP811].
// Holds for  volumes that add up when mixed; transfer efficiency as measured or estimated for that gun and
//            piece
// Accuracy   exact except for rounding
// Checks     tests/production/coverage_test.cpp, tests/published/quantities.csv
#pragma once

#include "fadewright/base/quantity.h"

#include <vector>

namespace fadewright::production {

inline constexpr Millilitres kUsGallon{3785.411784};
inline constexpr double kSquareFeetPerSquareMetre = 1 / (0.3048 * 0.3048);

// Paint to spray for that dry film; solids and transfer efficiency above 0 (contract).
[[nodiscard]] Millilitres spray_volume(double area_m2, Micrometres film, Share solids, Share transfer);
// Area that the paint covers at that dry film; film above 0 (contract).
[[nodiscard]] double coverage_m2(Millilitres paint, Micrometres film, Share solids, Share transfer);

// Film of paint with those solids, reduced by `reduced` (% of paint).
[[nodiscard]] Micrometres wet_film_of(Micrometres dry, Share solids, Share reduced = Share{});
[[nodiscard]] Micrometres dry_film_of(Micrometres wet, Share solids, Share reduced = Share{});

// Strength of each cup in a stepped let-down, the full-strength cup first: at every step the share `replaced`
// is poured away and replaced.
[[nodiscard]] std::vector<Share> step_down_strengths(Share replaced, int cups);

[[nodiscard]] double passes_over_a_point(Share overlap);  // below 1 (contract)

// Half a scale division, as a share of the amount.
[[nodiscard]] Share weighing_error(Grams amount, Grams division);
// Smallest batch in which a part with that share of the weight is weighed within `error`.
[[nodiscard]] Grams smallest_batch(Share share, Grams division, Share error);

// Dry paint on a spray-out card.
[[nodiscard]] Grams card_film_weight(Millimetres width, Millimetres height, Micrometres film,
                                     GramsPerMillilitre dry_density);

// Dry film of clear, rated. Source: common practice, no source (manufacturers' instructions).
inline constexpr Micrometres kMinClear{50}, kMaxClear{64}, kClearTooThick{76};
enum class ClearFilm { thin, normal, thick, too_thick };  // too thick for one clear
[[nodiscard]] ClearFilm rate_clear_film(Micrometres dry) noexcept;

}  // namespace fadewright::production
