// Effect pigment: the flakes of a pearl, interference or metallic paint.
//
// Flakes are nearly parallel to the surface of the dry film. The reflectance and transmittance of a flake are
// tables over the angle of incidence in the binder; film/flake.h calculates them from its layers. For diffuse
// light, flakes are absorption and scattering like any other pigment (part of Paint::K and Paint::S); the
// flop comes from single reflections around the specular direction (film/flake_reflection.h).
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/colour/spectrum.h"

#include <array>
#include <cstddef>
#include <memory>

namespace fadewright::paint {

// Materials of the flake, from the core outwards.
enum class FlakeKind {
    titania_on_mica,     // clear core, oxide on both faces: silver-white, then colours by thickness
    iron_oxide_on_mica,  // the oxide itself absorbs blue: bronze, copper, russet
    titania_on_alumina,  // like mica, with more uniform cores: purer colours
    titania_on_iron_oxide_on_mica,
    aluminium,  // an opaque mirror
};

enum class Titania { anatase, rutile };

inline constexpr Degrees kFlakeTableStep{5.0};
inline constexpr std::size_t kFlakeTableSize = 19;  // 0, 5 ... 90 degrees

// Reflectance and transmittance of one flake for unpolarised light, by the angle of incidence in the binder.
// The remainder to 1 is absorbed.
struct FlakeOpticsTable {
    std::array<colour::Reflectance, kFlakeTableSize> reflected;
    std::array<colour::Reflectance, kFlakeTableSize> transmitted;

    friend bool operator==(const FlakeOpticsTable&, const FlakeOpticsTable&) = default;
};

struct EffectPigment {
    std::shared_ptr<const FlakeOpticsTable> optics;
    double platelet_hits_per_um = 0;  // flakes on a straight line through one micrometre of dry film
    Degrees tilt{6.0};                // standard deviation of their normals, in a coat of ordinary wetness
    Micrometres size{20.0};           // mean diameter
    Micrometres thickness{0.5};       // mean, with its coating
    GramsPerMillilitre density{3.0};
    // Effect of a wetter coat on the tilt (film/wet_flakes.h): its relative increase for each further
    // ordinary coat sprayed wet-on-wet, and the wet film of such a coat divided by the evaporation rate of
    // its solvent; 0: unknown.
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
