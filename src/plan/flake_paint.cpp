#include "flake_paint.h"

#include "fadewright/film/flake.h"
#include "fadewright/film/flake_layer.h"
#include "fadewright/paint/mix.h"

#include <array>
#include <memory>

namespace fadewright::plan {
namespace {

film::FlakeStructure structure_of(const FlakesFile& file) {
    film::FlakeStructure build;
    build.kind = file.kind;
    build.crystal = file.crystal;
    build.oxide = file.oxide;
    build.oxide_spread = file.oxide_spread;
    build.iron_oxide = file.iron_oxide;
    build.core = file.core;
    build.core_spread = file.core_spread;
    build.size = file.size;
    build.porosity = file.porosity;
    return build;
}

}  // namespace

GramsPerLitre loading_of(const FlakesFile& file) {
    if (file.loading) return *file.loading;
    return GramsPerLitre{film::weight_of_spoons(file.teaspoons.value_or(0), file.bulk_density).value};
}

paint::Paint flake_powder(const FlakesFile& file) {
    const film::FlakeStructure build = structure_of(file);
    paint::EffectPigment flakes;
    flakes.optics = std::make_shared<const paint::FlakeOpticsTable>(film::flake_optics_table(build));
    flakes.thickness = film::flake_thickness(build);
    flakes.platelet_hits_per_um = film::platelet_hits_per_um(Share{1}, flakes.thickness);
    flakes.tilt = file.tilt;
    flakes.wet_disorientation = file.wet_disorientation;
    flakes.size = file.size;
    flakes.density = film::flake_density(build);
    paint::Paint powder;
    powder.solids = powder.pigment = Share{1};
    powder.wet_density = powder.dry_density = film::flake_density(build);
    const film::FlakeCoefficients optics = film::diffuse_coefficients(flakes);
    powder.K = optics.K;
    powder.S = optics.S;
    powder.flakes.push_back(std::move(flakes));
    return powder;
}

bool stir_in(const FlakesFile& file, paint::Paint& paint, Diagnostics& diagnostics) {
    if (file.loading.has_value() == file.teaspoons.has_value()) {
        diagnostics.error(
            "S009", file.span,
            file.loading ? "the amount of flakes is given twice" : "the amount of flakes is missing",
            // units: fixed, as the file is written
            "give either  loading = \"25 g/L\"  or  teaspoons = 15,  per litre of the paint");
        return false;
    }
    const paint::Paint powder = flake_powder(file);
    constexpr double litre_mL = 1000;
    const std::array<paint::Part, 2> parts{
        paint::Part{&paint, litre_mL},
        paint::Part{&powder, loading_of(file).value / powder.wet_density.value}};
    paint::MixedPaint mixture = paint::mix_paints(parts);
    paint.K = mixture.K;
    paint.S = mixture.S;
    paint.solids = mixture.solids;
    paint.pigment = mixture.pigment;
    paint.wet_density = mixture.wet_density;
    paint.dry_density = mixture.dry_density;
    paint.flakes = std::move(mixture.flakes);
    for (paint::EffectPigment& flakes : paint.flakes)
        if (paint.solids.value > 0)
            flakes.nominal_wetness =
                Micrometres{paint.coat_film.value / paint.solids.value / paint.evaporation};
    return true;
}

}  // namespace fadewright::plan
