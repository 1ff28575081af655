// The library's files: paints, grounds, guns, panels and lights, each a struct with its list of fields.
//
// A paint's K and S are either modelled from a few bands and edges (estimated paints, [absorption] and
// [scattering]) or given per wavelength band as measured or fitted ([spectrum]). A ground is either a
// measured reflectance or an opaque film of paints.
#pragma once

#include "fadewright/colour/illuminant.h"
#include "fadewright/colour/spectrum.h"
#include "fadewright/paint/paint.h"
#include "fadewright/paint/parametric_ks.h"
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

// Flakes of a paint, as in its file. The other values of the file are those of the paint without flakes.
struct FlakesFile {
    paint::FlakeKind kind = paint::FlakeKind::titania_on_mica;
    paint::Titania crystal = paint::Titania::rutile;
    Nanometres oxide{100.0};       // on each face
    Nanometres oxide_spread{5.0};  // standard deviations
    Nanometres iron_oxide;         // iron oxide between mica and titania
    Nanometres core{350.0};
    Nanometres core_spread{80.0};
    Share porosity;          // of the oxide's volume
    Micrometres size{20.0};  // mean diameter
    Degrees tilt{6.0};
    Share wet_disorientation{0.25};  // starting value
    std::optional<GramsPerLitre> loading;
    std::optional<double> teaspoons;       // level, 5 mL, per litre
    GramsPerMillilitre bulk_density{0.3};  // of the dry powder
    SourceSpan span;
};

// A paint as in its file: the paint, and how its K and S are given.
struct PaintFile : paint::Paint {
    int version = 1;
    std::optional<paint::AbsorptionModel> absorption;
    std::optional<paint::ScatteringModel> scattering;
    std::optional<PaintSpectrum> spectrum;
    std::optional<FlakesFile> flakes_file;
    SourceSpan span;
};

struct GroundFile {
    int version = 1;
    std::string title;
    paint::Provenance origin = paint::Provenance::estimated;
    std::string source;
    std::vector<Named<double>> parts;
    std::optional<Spectrum> reflectance;
    SourceSpan span;
};

// The size of the pattern has no default: a file gives what its pattern needs (rule S006).
struct GunFile : spray::Gun {
    GunFile() {
        sigma = {};
        fan_width = fan_thickness = {};
    }
    int version = 1;
    paint::Provenance origin = paint::Provenance::estimated;
    MillimetresPerSecond speed{300.0};
    SourceSpan span;
};

struct LightFile {
    int version = 1;
    std::string title;
    std::string source;
    std::optional<colour::StandardIlluminant> table;
    std::optional<Spectrum> power;
    bool narrow_band = false;
    SourceSpan span;
};

// The resolved files.
struct Ground {
    std::string id, title;
    paint::Provenance origin = paint::Provenance::estimated;
    colour::Reflectance inside;  // reflectance below the surface, in the first coat's binder
};

struct LibraryGun {
    paint::Provenance origin = paint::Provenance::estimated;
    MillimetresPerSecond speed;  // default travel speed
    spray::Gun gun;
};

}  // namespace fadewright::plan
