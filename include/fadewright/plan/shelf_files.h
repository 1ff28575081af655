// The files on the shelf: paints, grounds, guns, panels and lights, each a struct with its list of fields.
//
// A paint's K and S are either modelled from a few bands and edges (estimated paints, [absorption] and
// [scattering]) or given band by band as they were measured or fitted ([spectrum]). A ground is either seen
// reflectance or an opaque film of paints.
#pragma once

#include "fadewright/colour/curve.h"
#include "fadewright/colour/light.h"
#include "fadewright/paint/modelled.h"
#include "fadewright/paint/paint.h"
#include "fadewright/spray/gun.h"
#include "fadewright/text/field.h"

#include <optional>
#include <string>
#include <vector>

namespace fadewright::plan {

// Values on an even grid of wavelengths.
struct Spectrum {
    Nanometres from{380.0};
    Nanometres step{10.0};
    std::vector<double> values;
    friend bool operator==(const Spectrum&, const Spectrum&) = default;
};

// K and S of one dry film, per micrometre, on the same grid.
struct PaintSpectrum {
    Nanometres from{380.0};
    Nanometres step{10.0};
    std::vector<double> absorption;
    std::vector<double> scattering;
};

// Flakes of a paint as they are written. The paint's other figures are those of the paint they are stirred into.
struct FlakesFile {
    paint::FlakeKind kind = paint::FlakeKind::titania_on_mica;
    paint::Titania crystal = paint::Titania::rutile;
    Nanometres oxide{100.0};       // on each face
    Nanometres oxide_spread{5.0};  // standard deviations
    Nanometres under;              // iron oxide between mica and titania
    Nanometres core{350.0};
    Nanometres core_spread{80.0};
    Share pores;             // of the oxide's volume
    Micrometres size{20.0};  // mean diameter
    Degrees tilt{6.0};
    Share loosening{0.25};  // starting value
    std::optional<GramsPerLitre> loading;
    std::optional<double> teaspoons;         // level, 5 mL, in a litre
    GramsPerMillilitre heaped_density{0.3};  // of the dry powder in the spoon
    Place place;
};

// A paint as it is written: the paint, and the way its K and S are given.
struct PaintFile : paint::Paint {
    int version = 1;
    std::optional<paint::AbsorptionModel> absorption;
    std::optional<paint::ScatteringModel> scattering;
    std::optional<PaintSpectrum> spectrum;
    std::optional<FlakesFile> flakes_file;
    Place place;
};

struct GroundFile {
    int version = 1;
    std::string title;
    paint::Origin origin = paint::Origin::estimated;
    std::string source;
    std::vector<Named<double>> parts;
    std::optional<Spectrum> seen;
    Place place;
};

// The size of the spray has no default: a file gives what its pattern needs (rule S006).
struct GunFile : spray::Gun {
    GunFile() {
        sigma = {};
        fan_width = fan_depth = {};
    }
    int version = 1;
    paint::Origin origin = paint::Origin::estimated;
    MillimetresPerSecond speed{300.0};
    Place place;
};

struct LightFile {
    int version = 1;
    std::string title;
    std::string source;
    std::optional<colour::StandardLight> table;
    std::optional<Spectrum> power;
    bool lines = false;
    Place place;
};

// What the files become.
struct Ground {
    std::string id, title;
    paint::Origin origin = paint::Origin::estimated;
    colour::Reflectance inside;  // as light inside the first coat's binder meets it
};

struct ShelfGun {
    paint::Origin origin = paint::Origin::estimated;
    MillimetresPerSecond speed;  // usual travel
    spray::Gun gun;
};

}  // namespace fadewright::plan
