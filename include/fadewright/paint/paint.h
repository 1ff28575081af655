// A paint: the content of one bottle. Start reading the paint layer here.
//
//     paint.h                one paint: its optics, its solids, the provenance of its data
//     effect_pigment.h       the flakes of pearl, interference and metallic paints
//     parametric_ks.h        K and S from a few bands and edges, for paints without measurements
//     mix.h                  mixes of paints,
//                            and the dry film of one ordinary coat
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

// The role of a paint. Only white changes the calculation of a mix (crowding, mix.h); pearl, interference and
// flake are rendered as platelets in addition to their K and S; the others are used by the checks of a plan.
enum class Role { opaque, transparent, white, clear_base, reducer, pearl, interference, flake, clear };

// Provenance of the optical data, most reliable first. It is passed on to every report.
enum class Provenance { measured, fitted, estimated };

// Dense enough for most acrylic and polyurethane binders (common practice, no source).
inline constexpr GramsPerMillilitre kBinderDensity{1.1};

struct Paint {
    std::string id;
    std::string title;
    std::string colour_index;  // generic names, for example "PB15:3"; several with commas
    Role role = Role::opaque;
    Provenance origin = Provenance::estimated;
    std::string source;  // where K and S come from, in words or as keys of src/sources.bib

    Share solids{0.35};                    // dry film left by the wet paint, by volume
    GramsPerMillilitre wet_density{1.05};  // unmixed
    GramsPerMillilitre dry_density{1.3};   // of the dry film, pigment and binder together
    GramsPerMillilitre binder_density = kBinderDensity;
    Micrometres coat_film{8};        // dry film of one ordinary medium coat
    Share pigment{0.0};              // pigment volume in the dry film (PVC); 0 for clear
    std::optional<double> crowding;  // v of the 2/3 law (mix.h); white has one even if none is given
    double evaporation = 1;          // of its solvent, n-butyl acetate = 1
    Share water;                     // of its volatile part; the rest is solvent
    Share flatting;  // share of the gloss that the surface scatters in all directions: 0 gloss, 1 dead matt
    Share haze;      // share of the rest that it scatters a few degrees off the reflection (film/surface.h)
    std::optional<double> price_per_litre;  // in the shop's currency

    colour::Absorption K;  // of all pigments, including flakes in diffuse light
    colour::Scattering S;
    std::vector<EffectPigment> flakes;
};

// A dye in clear, as in a candy: four coats reflect less than 1 % of green light.
[[nodiscard]] inline bool is_dye(const Paint& paint) noexcept {
    return 4 * paint.coat_film.value * paint.S[colour::kGreenBand] < 0.03;
}

}  // namespace fadewright::paint
