#include "flake_paint.h"

#include "fadewright/film/flake.h"
#include "fadewright/film/flake_layer.h"
#include "fadewright/paint/mix.h"

#include <array>
#include <memory>

namespace fadewright::plan {
namespace {

film::FlakeBuild build_of(const FlakesFile& file) {
    film::FlakeBuild build;
    build.kind = file.kind;
    build.crystal = file.crystal;
    build.oxide = file.oxide;
    build.oxide_spread = file.oxide_spread;
    build.under = file.under;
    build.core = file.core;
    build.core_spread = file.core_spread;
    build.size = file.size;
    build.pores = file.pores;
    return build;
}

}  // namespace

GramsPerLitre loading_of(const FlakesFile& file) {
    if (file.loading) return *file.loading;
    return GramsPerLitre{film::spoonfuls(file.teaspoons.value_or(0), file.heaped_density).value};
}

paint::Paint dry_flakes(const FlakesFile& file) {
    const film::FlakeBuild build = build_of(file);
    paint::Flakes flakes;
    flakes.mirror = std::make_shared<const paint::FlakeMirror>(film::mirror_of(build));
    flakes.thickness = film::flake_thickness(build);
    flakes.crossings_per_um = film::crossings_per_um(Share{1}, flakes.thickness);
    flakes.tilt = file.tilt;
    flakes.loosening = file.loosening;
    flakes.size = file.size;
    flakes.density = film::flake_density(build);
    paint::Paint powder;
    powder.solids = powder.pigment = Share{1};
    powder.wet_density = powder.dry_density = film::flake_density(build);
    const film::FlakeOptics optics = film::diffuse_optics(flakes);
    powder.K = optics.K;
    powder.S = optics.S;
    powder.flakes.push_back(std::move(flakes));
    return powder;
}

bool stir_in(const FlakesFile& file, paint::Paint& paint, Diagnostics& diagnostics) {
    if (file.loading.has_value() == file.teaspoons.has_value()) {
        diagnostics.error("S009", file.place,
                          file.loading ? "how many flakes there are is said twice"
                                       : "it is not said how many flakes there are",
                          "give  loading = \"25 g/L\",  or  teaspoons = 15,  to a litre of the paint");
        return false;
    }
    const paint::Paint powder = dry_flakes(file);
    constexpr double litre_mL = 1000;
    const std::array<paint::Part, 2> parts{
        paint::Part{&paint, litre_mL},
        paint::Part{&powder, loading_of(file).value / powder.wet_density.value}};
    paint::MixedPaint whole = paint::mixed(parts);
    paint.K = whole.K;
    paint.S = whole.S;
    paint.solids = whole.solids;
    paint.pigment = whole.pigment;
    paint.wet_density = whole.wet_density;
    paint.dry_density = whole.dry_density;
    paint.flakes = std::move(whole.flakes);
    for (paint::Flakes& flakes : paint.flakes)
        if (paint.solids.value > 0)
            flakes.usual_wet = Micrometres{paint.coat_film.value / paint.solids.value / paint.evaporation};
    return true;
}

}  // namespace fadewright::plan
