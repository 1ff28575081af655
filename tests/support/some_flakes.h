// Flakes and stacks for several tests of the film layer.
#pragma once

#include "fadewright/colour/illuminant.h"
#include "fadewright/colour/lab.h"
#include "fadewright/film/flake.h"
#include "fadewright/film/flake_layer.h"
#include "fadewright/film/flake_reflection.h"
#include "fadewright/film/layer.h"

#include <cstddef>
#include <memory>
#include <utility>
#include <vector>

namespace fadewright::film::test {

inline paint::EffectPigment flakes_of(const FlakeStructure& structure, double platelet_hits_per_um,
                                      Degrees tilt = Degrees{6}) {
    paint::EffectPigment flakes;
    flakes.optics = std::make_shared<paint::FlakeOpticsTable>(flake_optics_table(structure));
    flakes.platelet_hits_per_um = platelet_hits_per_um;
    flakes.tilt = tilt;
    flakes.size = structure.size;
    flakes.thickness = flake_thickness(structure);
    return flakes;
}

// An optics table of the same reflectance at all angles and bands, without absorption.
inline paint::EffectPigment lossless(double R, double platelet_hits_per_um, Degrees tilt = Degrees{6}) {
    paint::FlakeOpticsTable optics;
    optics.reflected.fill(colour::Reflectance::constant(R));
    optics.transmitted.fill(colour::Reflectance::constant(1 - R));
    paint::EffectPigment flakes;
    flakes.optics = std::make_shared<paint::FlakeOpticsTable>(optics);
    flakes.platelet_hits_per_um = platelet_hits_per_um;
    flakes.tilt = tilt;
    return flakes;
}

struct SomeCoat {
    colour::Absorption K;  // without the flakes
    colour::Scattering S;
    std::vector<paint::EffectPigment> flakes;
    Micrometres film{10};
};

struct FinishReflectance {
    colour::Reflectance inside;
    colour::Reflectance outside;
    FlakeReflection sum;
};

// Coats from the bottom up over an even ground, prepared for views from many directions under one lamp.
class SomeFinish {
public:
    SomeFinish(std::vector<SomeCoat> coats, double ground, const FlakeReflectionScene& lamp)
        : inside_(colour::Reflectance::constant(ground)) {
        for (SomeCoat& coat : coats) {
            for (const paint::EffectPigment& flakes : coat.flakes) {
                const FlakeCoefficients optics = diffuse_coefficients(flakes);
                for (std::size_t band = 0; band < colour::kBandCount; ++band) {
                    coat.K[band] += optics.K[band];
                    coat.S[band] += optics.S[band];
                }
            }
            for (std::size_t band = 0; band < colour::kBandCount; ++band)
                inside_[band] =
                    reflectance_over(layer(coat.K[band], coat.S[band], coat.film.value), inside_[band]);
            paints_.push_back(flake_reflection_paint(coat.K, coat.S, coat.flakes));
            lamps_.push_back(flake_reflection_lamp(paints_.back(), lamp));
            films_.push_back(coat.film);
        }
    }
    [[nodiscard]] FinishReflectance reflectance(const FlakeReflectionScene& scene) const {
        FinishReflectance result;
        result.inside = inside_;
        for (std::size_t i = paints_.size(); i-- > 0;)
            result.sum.add(flake_reflection_coat(paints_[i], scene, lamps_[i]), films_[i]);
        result.outside = emergent_reflectance(scene, result.sum, inside_);
        return result;
    }

private:
    colour::Reflectance inside_;
    std::vector<FlakeReflectionPaint> paints_;
    std::vector<FlakeReflectionLamp> lamps_;
    std::vector<Micrometres> films_;
};

inline FinishReflectance finish_reflectance(std::vector<SomeCoat> coats, double ground,
                                            const FlakeReflectionScene& scene) {
    return SomeFinish(std::move(coats), ground, scene).reflectance(scene);
}

inline FlakeReflectionScene aspecular_scene_at(double degrees) {
    return flake_reflection_scene(light_direction(Degrees{45}),
                                  view_direction(aspecular_view(Degrees{45}, Degrees{degrees})));
}

inline colour::LCh lch_of(const colour::Reflectance& R) {
    static const auto w = colour::tristimulus_weights(
        colour::standard_illuminant(colour::StandardIlluminant::D65), colour::Observer::ten_degree);
    return colour::to_lch(colour::to_lab(colour::to_xyz(R, w), w.white));
}

}  // namespace fadewright::film::test
