// A mix: bottles poured together by volume, and what the result will do.
//
// Each part p_i of wet paint leaves p_i v_i of dry film, v the solids. Of the dry film of the mix it is the
// share c_i = p_i v_i / sum p_j v_j, and the optics add up by those shares:
//
//     K = sum c_i K_i,     S = sum c_i S_i e(p) / e(p_i),     e(p) = 1 - v_crowding p^(2/3).
//
// e is the crowding of white: particles close together scatter less than the same particles far apart. p_i is
// the pigment in the white's own film, for which S_i was found; p = sum c_i p_i over all crowding paints of
// the mix. Letting a white down therefore makes each gram of it count for more. Everything else has e = 1.
//
// Reducing adds a paint without solids: less dry film from a wet coat, the same colour for the same dry film.
// Extending adds clear base: as much dry film as before, less colour in it.
//
// Source: [duncan1940] (K and S by shares); [voelz2001] (crowding: the 2/3 law, with kUsualCrowding placing
//            the best pigment content at 0.30); there is no threshold below which crowding is nil
//            [auger2012].
// Holds for  volumes that add up when poured together; pigment without air between it; p taken as at most
//            kMostCrowded; crowding is uncertain by a fifth of e
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
inline constexpr double kMaxCrowdedContent = 0.45;  // pigment content beyond which the law is not followed
inline constexpr double kMaxCrowding = 1.7;  // crowding stays below this, or white would lose all scattering

// So many parts of a paint, by wet volume, in any unit. A mix has at least one part, none negative, not all
// 0.
struct Part {
    const Paint* paint = nullptr;
    double parts = 0;
};

struct MixedPaint {
    colour::Absorption K;  // of the dry film, per micrometre
    colour::Scattering S;
    Provenance origin = Provenance::measured;  // the least sure of the paints that leave dry film
    Share solids;                              // of the mix as sprayed, by volume
    GramsPerMillilitre wet_density;            // as sprayed
    GramsPerMillilitre dry_density;            // of the dry film; 0 if none
    Share pigment;                             // pigment volume in the dry film (PVC)
    double binder_g_per_litre =
        0;                      // binder in a litre as sprayed: reducing takes it away, extending keeps it
    Share flatting, haze;       // if it is the last coat
    double pigment_binder = 0;  // grams of pigment to each gram of binder
    std::vector<EffectPigment> flakes;  // of all its paints, crossings by their shares of the film

    friend bool operator==(const MixedPaint&, const MixedPaint&) = default;
};

[[nodiscard]] MixedPaint mix_paints(std::span<const Part> parts);

// The parts of the crowding law, for searches that mix a million times: v of a paint that crowds, none for
// the others; e at pigment content p, and its slope de/dp.
[[nodiscard]] std::optional<double> crowding_of(const Paint& paint) noexcept;
[[nodiscard]] double crowding_efficiency(double v, double p) noexcept;
[[nodiscard]] double crowding_slope(double v, double p) noexcept;

// Dry micrometres left by one wet micrometre, and the two films from each other. wet_film() of a mix without
// solids is infinite.
[[nodiscard]] double dry_per_wet(const MixedPaint& mix) noexcept;
[[nodiscard]] Micrometres dry_film(const MixedPaint& mix, Micrometres wet) noexcept;
[[nodiscard]] Micrometres wet_film(const MixedPaint& mix, Micrometres dry) noexcept;

// Two mixes poured together so that `second` makes the given share of the dry film. Both must have solids.
[[nodiscard]] std::vector<Part> combine_mixes(std::span<const Part> first, std::span<const Part> second,
                                              Share second_of_dry_film);

// Bottle <-> scale.
[[nodiscard]] Millilitres volume_of(const Paint& paint, Grams amount) noexcept;
[[nodiscard]] Grams weight_of(const Paint& paint, Millilitres amount) noexcept;

// Each part's share of the weight of the mix, in the order of the parts.
[[nodiscard]] std::vector<Share> weight_shares(std::span<const Part> parts);

// "Reduce 25 % of paint" adds a quarter as much reducer as there is paint, which is 20 % of the mix.
[[nodiscard]] Share reducer_share_of_mix(Share share_of_paint) noexcept;
[[nodiscard]] Share reducer_share_of_paint(Share share_of_mix) noexcept;

}  // namespace fadewright::paint
