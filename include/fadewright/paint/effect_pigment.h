// Flakes: the little mirrors of a pearl, interference or metallic paint, as far as the rest needs them.
//
// Flakes lie nearly flat in the dry film. What one does to light that meets it is kept as a table over the angle
// of meeting, inside the binder; film/flake.h works it out from what the flake is made of. To diffuse light they
// are absorption and scattering like any other (part of Paint::K and Paint::S); what makes them glint is how
// they throw single reflections about the mirror direction (film/glint.h).
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/colour/spectrum.h"

#include <array>
#include <cstddef>
#include <memory>

namespace fadewright::paint {

// What flakes are made of, from the middle outwards.
enum class FlakeKind {
    titania_on_mica,     // clear core, oxide on both faces: silver-white, then colours by thickness
    iron_oxide_on_mica,  // the oxide swallows blue itself: bronze, copper, russet
    titania_on_alumina,  // like mica, evener cores: purer colours
    titania_on_iron_oxide_on_mica,
    aluminium,  // an opaque mirror
};

enum class Titania { anatase, rutile };

inline constexpr Degrees kFlakeTableStep{5.0};
inline constexpr std::size_t kFlakeTableSize = 19;  // 0, 5 ... 90 degrees

// Shares of light sent back and let through by one flake, unpolarised, met at so many degrees from its normal
// inside the binder. What is missing to 1 is swallowed.
struct FlakeOpticsTable {
    std::array<colour::Reflectance, kFlakeTableSize> reflected;
    std::array<colour::Reflectance, kFlakeTableSize> transmitted;

    friend bool operator==(const FlakeOpticsTable&, const FlakeOpticsTable&) = default;
};

struct EffectPigment {
    std::shared_ptr<const FlakeOpticsTable> optics;
    double platelet_hits_per_um = 0;  // flakes met by a straight line through one micrometre of dry film
    Degrees tilt{6.0};                // standard deviation of their normals, in a coat no wetter than usual
    Micrometres size{20.0};           // mean diameter
    Micrometres thickness{0.5};       // mean, coating and all
    GramsPerMillilitre density{3.0};
    // What a wetter coat does to the tilt (film/flake_lie.h): by which share it widens for each further ordinary
    // coat laid wet in wet, and how wet such a coat is, over the evaporation of its solvent; 0: not known.
    Share wet_disorientation{0.0};
    Micrometres nominal_wetness{0.0};

    friend bool operator==(const EffectPigment& a, const EffectPigment& b) {
        return (a.optics == b.optics || (a.optics && b.optics && *a.optics == *b.optics)) &&
               a.platelet_hits_per_um == b.platelet_hits_per_um && a.tilt == b.tilt && a.size == b.size &&
               a.thickness == b.thickness && a.density == b.density &&
               a.wet_disorientation == b.wet_disorientation && a.nominal_wetness == b.nominal_wetness;
    }
};

}  // namespace fadewright::paint
