// Flakes and stacks that several tests of the film layer look at.
#pragma once

#include "fadewright/colour/lab.h"
#include "fadewright/colour/light.h"
#include "fadewright/film/flake.h"
#include "fadewright/film/flake_layer.h"
#include "fadewright/film/glint.h"
#include "fadewright/film/layer.h"

#include <cstddef>
#include <memory>
#include <utility>
#include <vector>

namespace fadewright::film::test {

inline paint::Flakes flakes_of(const FlakeBuild& build, double crossings_per_um, Degrees tilt = Degrees{6}) {
    paint::Flakes flakes;
    flakes.mirror = std::make_shared<paint::FlakeMirror>(mirror_of(build));
    flakes.crossings_per_um = crossings_per_um;
    flakes.tilt = tilt;
    flakes.size = build.size;
    flakes.thickness = flake_thickness(build);
    return flakes;
}

// A mirror of the same reflectance at all angles and bands that swallows nothing.
inline paint::Flakes lossless(double R, double crossings_per_um, Degrees tilt = Degrees{6}) {
    paint::FlakeMirror mirror;
    mirror.reflected.fill(colour::Reflectance::constant(R));
    mirror.passed.fill(colour::Reflectance::constant(1 - R));
    paint::Flakes flakes;
    flakes.mirror = std::make_shared<paint::FlakeMirror>(mirror);
    flakes.crossings_per_um = crossings_per_um;
    flakes.tilt = tilt;
    return flakes;
}

struct SomeCoat {
    colour::Absorption K;  // without the flakes
    colour::Scattering S;
    std::vector<paint::Flakes> flakes;
    Micrometres film{10};
};

struct Looked {
    colour::Reflectance inside;
    colour::Reflectance outside;
    GlintSum sum;
};

// Coats from the bottom up over an even ground, made ready for looks at them from many sides under one lamp.
class SomeFinish {
public:
    SomeFinish(std::vector<SomeCoat> coats, double ground, const GlintScene& lamp)
        : inside_(colour::Reflectance::constant(ground)) {
        for (SomeCoat& coat : coats) {
            for (const paint::Flakes& flakes : coat.flakes) {
                const FlakeOptics optics = diffuse_optics(flakes);
                for (std::size_t band = 0; band < colour::kBandCount; ++band) {
                    coat.K[band] += optics.K[band];
                    coat.S[band] += optics.S[band];
                }
            }
            for (std::size_t band = 0; band < colour::kBandCount; ++band)
                inside_[band] = over(layer(coat.K[band], coat.S[band], coat.film.value), inside_[band]);
            paints_.push_back(glint_paint(coat.K, coat.S, coat.flakes));
            lamps_.push_back(glint_lamp(paints_.back(), lamp));
            films_.push_back(coat.film);
        }
    }
    [[nodiscard]] Looked look(const GlintScene& scene) const {
        Looked looked;
        looked.inside = inside_;
        for (std::size_t i = paints_.size(); i-- > 0;)
            looked.sum.add(glint_coat(paints_[i], scene, lamps_[i]), films_[i]);
        looked.outside = outside(scene, looked.sum, inside_);
        return looked;
    }

private:
    colour::Reflectance inside_;
    std::vector<GlintPaint> paints_;
    std::vector<GlintLamp> lamps_;
    std::vector<Micrometres> films_;
};

inline Looked look(std::vector<SomeCoat> coats, double ground, const GlintScene& scene) {
    return SomeFinish(std::move(coats), ground, scene).look(scene);
}

inline GlintScene aspecular(double degrees) {
    return glint_scene(illuminated_from(Degrees{45}),
                       viewed_from(aspecular_view(Degrees{45}, Degrees{degrees})));
}

inline colour::LCh lch_of(const colour::Reflectance& R) {
    static const auto w =
        colour::weights(colour::standard_light(colour::StandardLight::D65), colour::Observer::ten_degree);
    return colour::to_lch(colour::to_lab(colour::to_xyz(R, w), w.white));
}

}  // namespace fadewright::film::test
