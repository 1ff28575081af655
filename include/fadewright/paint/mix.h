// A mix of paints by volume, and its properties.
//
// Each part p_i of wet paint leaves p_i v_i of dry film, v the volume solids. Its share of the dry film of
// the mix is c_i = p_i v_i / sum p_j v_j, and K and S add up by those shares:
//
//     K = sum c_i K_i,     S = sum c_i S_i e(p) / e(p_i),     e(p) = 1 - v_crowding p^(2/3).
//
// e is the crowding of white: particles close together scatter less than the same particles far apart. p_i is
// the pigment content of the white's own film, for which S_i was determined; p = sum c_i p_i over all
// crowding paints of the mix. A let-down white therefore scatters more per gram. All other paints have e = 1.
//
// Reducing adds a paint without solids: less dry film per wet coat, the same colour at the same dry film.
// Extending adds clear base: the same dry film with less pigment in it.
//
// Source: [duncan1940] (K and S by shares); [voelz2001] (crowding: the 2/3 law, with kDefaultCrowding placing
//            the best pigment content at 0.30); there is no threshold below which crowding is nil
//            [auger2012].
// Holds for  volumes that add up when mixed; pigment without air in between; p limited to
//            kMaxCrowdedContent; crowding is uncertain by a fifth of e
// Checks     tests/paint/mix_test.cpp
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/colour/spectrum.h"
#include "fadewright/paint/paint.h"

#include <optional>
#include <span>
#include <vector>

namespace fadewright::paint {

inline constexpr double kDefaultCrowding = 1.34;    // of titanium white
inline constexpr double kMaxCrowdedContent = 0.45;  // largest pigment content that the law is applied to
inline constexpr double kMaxCrowding = 1.7;  // crowding stays below this, or white would lose all scattering

// Parts of a paint by wet volume, in any unit. A mix has at least one part, none negative, not all 0.
struct Part {
    const Paint* paint = nullptr;
    double parts = 0;
};

struct MixedPaint {
    colour::Absorption K;  // of the dry film, per micrometre
    colour::Scattering S;
    Provenance origin = Provenance::measured;  // the least reliable of the paints that leave dry film
    Share solids;                              // of the mix as sprayed, by volume
    GramsPerMillilitre wet_density;            // as sprayed
    GramsPerMillilitre dry_density;            // of the dry film; 0 if none
    Share pigment;                             // pigment volume in the dry film (PVC)
    double binder_g_per_litre = 0;      // binder per litre as sprayed: reducing lowers it, extending keeps it
    Share flatting, haze;               // if it is the last coat
    double pigment_binder = 0;          // grams of pigment per gram of binder
    std::vector<EffectPigment> flakes;  // of all its paints, platelet hits by their shares of the film

    friend bool operator==(const MixedPaint&, const MixedPaint&) = default;
};

[[nodiscard]] MixedPaint mix_paints(std::span<const Part> parts);

// Terms of the crowding law, for searches with very many mixes: v of a crowding paint, empty for
// the others; e at pigment content p, and its slope de/dp.
[[nodiscard]] std::optional<double> crowding_of(const Paint& paint) noexcept;
[[nodiscard]] double crowding_efficiency(double v, double p) noexcept;
[[nodiscard]] double crowding_slope(double v, double p) noexcept;

// Dry micrometres per wet micrometre, and conversions between the two films. wet_film() of a mix without
// solids is infinite.
[[nodiscard]] double dry_per_wet(const MixedPaint& mix) noexcept;
[[nodiscard]] Micrometres dry_film(const MixedPaint& mix, Micrometres wet) noexcept;
[[nodiscard]] Micrometres wet_film(const MixedPaint& mix, Micrometres dry) noexcept;

// Two mixes combined so that `second` makes the given share of the dry film. Both must have solids.
[[nodiscard]] std::vector<Part> combine_mixes(std::span<const Part> first, std::span<const Part> second,
                                              Share second_of_dry_film);

// Conversions between volume and weight.
[[nodiscard]] Millilitres volume_of(const Paint& paint, Grams amount) noexcept;
[[nodiscard]] Grams weight_of(const Paint& paint, Millilitres amount) noexcept;

// Each part's share of the weight of the mix, in the order of the parts.
[[nodiscard]] std::vector<Share> weight_shares(std::span<const Part> parts);

// A part of a mix, with its share of the whole.
struct Ingredient {
    std::string id, title;
    Share of_mix_volume, of_mix_weight;
};
[[nodiscard]] std::vector<Ingredient> ingredients_of(std::span<const Part> parts);

// In the shop's currency; nothing if a price is missing.
[[nodiscard]] std::optional<double> price_per_litre(std::span<const Part> parts);

// Nominal dry film of one coat: the mean of the paints', weighted by their shares of the dry film; 0 without
// solids.
[[nodiscard]] Micrometres nominal_film_build(std::span<const Part> parts) noexcept;

// "Reduce 25 % of paint" adds a quarter as much reducer as there is paint, which is 20 % of the mix.
[[nodiscard]] Share reducer_share_of_mix(Share share_of_paint) noexcept;
[[nodiscard]] Share reducer_share_of_paint(Share share_of_mix) noexcept;

}  // namespace fadewright::paint
