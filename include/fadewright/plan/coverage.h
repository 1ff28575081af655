// How much paint: the arithmetic between area, film, volume and weight.
//
// One litre leaves 1 m2 under 1 um a thousand times over: 1 m2 x 1 um = 1 mL. Of what leaves the gun the
// share t lands, and of what lands the share VS stays when dry, so
//
//     mL to spray = area x film / (VS t)             area = mL VS t / film
//     wet film    = film (1 + r) / VS                thinned with r volumes to one of paint of solids VS
//     passes over a point = 1 / (1 - overlap)
//     error of one weighing = half a division of the scale over the amount
//
// Both solids and transfer stand in the numerator of the area: less of either covers less. (An answer with
// them in the denominator has been printed; it is wrong.)
//
// Symbols    film dry, um; area m2; VS solids by volume; t transfer
// Source: own derivation; the gallon and the square foot by their legal definitions (231 cubic inches; 0.3048
//            m) [nistSP811].
// Holds for  volumes that add up when poured together; transfer as measured or guessed for that gun and piece
// Accuracy   exact but for rounding
// Checks     tests/plan/quantities_test.cpp, tests/published/quantities.csv
#pragma once

#include "fadewright/base/quantity.h"

#include <string_view>
#include <vector>

namespace fadewright::plan {

inline constexpr Millilitres kUsGallon{3785.411784};
inline constexpr double kSquareFeetPerSquareMetre = 1 / (0.3048 * 0.3048);

// Paint that must leave the gun for that dry film; solids and transfer above 0 (contract).
[[nodiscard]] Millilitres spray_volume(double area_m2, Micrometres film, Share solids, Share transfer);
// Area that so much paint covers with that dry film; film above 0 (contract).
[[nodiscard]] double coverage_m2(Millilitres paint, Micrometres film, Share solids, Share transfer);

// Film of paint with those solids that has been thinned by `reduced`, % of paint.
[[nodiscard]] Micrometres wet_film_of(Micrometres dry, Share solids, Share reduced = Share{});
[[nodiscard]] Micrometres dry_film_of(Micrometres wet, Share solids, Share reduced = Share{});

// What is left of the first cup after each refilling: `taken_out` of it is poured away and replaced with
// something else. The full cup comes first.
[[nodiscard]] std::vector<Share> step_down_strengths(Share replaced, int cups);

[[nodiscard]] double passes_over_a_point(Share overlap);  // below 1 (contract)

// Half a division of the scale, as a share of what is weighed.
[[nodiscard]] Share weighing_error(Grams amount, Grams division);
// Batch in which a component that makes `share` of the weight can be weighed that exactly.
[[nodiscard]] Grams smallest_batch(Share share, Grams division, Share error);

// Dry paint on a test card.
[[nodiscard]] Grams card_film_weight(Millimetres width, Millimetres height, Micrometres film,
                                     GramsPerMillilitre dry_density);

// Dry film of clear: makers' instructions, in words; from memory.
inline constexpr Micrometres kMinClear{50}, kMaxClear{64}, kClearTooThick{76};
[[nodiscard]] std::string_view describe_clear_film(Micrometres dry) noexcept;

}  // namespace fadewright::plan
