// A paint: what is in one bottle. Start reading the paint layer here.
//
//     paint.h      one bottle: what it does to light, what it leaves when dry, how far its figures are trusted
//     flakes.h     the little mirrors of pearls, interference and metallic paints
//     modelled.h   K and S drawn from a few bands and edges, for paints nobody has measured
//     mix.h        bottles poured together
//
// K and S are those of the paint's own dry film, at its own pigment content, per micrometre. A volume v of
// wet paint leaves v * solids of dry film; reducer leaves nothing.
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/colour/spectrum.h"
#include "fadewright/paint/effect_pigment.h"

#include <optional>
#include <string>
#include <vector>

namespace fadewright::paint {

// What a paint is for. Only white changes how a mix is reckoned (crowding, mix.h); pearl, interference and
// flake are drawn as platelets besides their K and S; the others guide the checks of a plan.
enum class Role { opaque, transparent, white, clear_base, reducer, pearl, interference, flake, clear };

// How the optical figures were come by, surest first. It travels into everything reported.
enum class Provenance { measured, fitted, estimated };

// Dense enough for most acrylic and polyurethane binders (common practice, no source).
inline constexpr GramsPerMillilitre kBinderDensity{1.1};

struct Paint {
    std::string id;
    std::string title;
    std::string colour_index;  // generic names, as "PB15:3"; several with commas
    Role role = Role::opaque;
    Provenance origin = Provenance::estimated;
    std::string source;  // where K and S come from, in words or a key of the list of sources

    Share solids{0.35};                    // dry film left by the wet paint, by volume
    GramsPerMillilitre wet_density{1.05};  // as poured
    GramsPerMillilitre dry_density{1.3};   // of the dry film, pigment and binder together
    GramsPerMillilitre binder_density = kBinderDensity;
    Micrometres coat_film{8};        // dry film of one ordinary medium coat
    Share pigment{0.0};              // pigment volume in the dry film (PVC); 0 for clear
    std::optional<double> crowding;  // v of the 2/3 law (mix.h); white has one even if none is given
    double evaporation = 1;          // of its solvent, n-butyl acetate = 1
    Share water;                     // of its volatile part; the rest is solvent
    Share flatting;  // of the shine that its surface spreads over everything: 0 gloss, 1 dead matt
    Share haze;      // of the rest, that it throws some degrees beside the mirror image (film/haze.h)
    std::optional<double> price_per_litre;  // in the painter's own money

    colour::Absorption K;  // of everything in it, flakes met by diffuse light included
    colour::Scattering S;
    std::vector<EffectPigment> flakes;
};

// Dye in clear, as in a candy: four coats send back less than a hundredth of the green light that falls on them.
[[nodiscard]] inline bool is_dye(const Paint& paint) noexcept {
    constexpr std::size_t band = 17;  // 550 nm
    return 4 * paint.coat_film.value * paint.S[band] < 0.03;
}

}  // namespace fadewright::paint
