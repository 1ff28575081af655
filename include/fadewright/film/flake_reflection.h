// Glint: light that one flake alone has thrown from the lamp to the eye.
//
// A film with flakes is reckoned as any other (film/stack.h), and its R holds all the light the flakes
// throw about, as if it left to all sides alike. But light mirrored once keeps its direction. So it is
// taken out of R and given back where it belongs. Flakes lie at random depths; with
//
//     m, R, T     crossings per micrometre, shares of one flake at an angle (paint/flakes.h), of each kind
//     K, S, X     of the whole coat, flakes included; K', S' without the flakes' part
//     a(d)        what a ray d loses per micrometre of depth:  K' / (2 cos d) + S' + sum of m (1 - T),
//                 T the mean over all rays that can come in from the air
//     A           what diffuse light loses per micrometre:  K + S
//     E(a)        (1 - exp(-a X)) / a
//     D, F, cos   film/flake_geometry.h
//
// the shares mirrored once, and the reflectance factor of the glint, are per coat
//
//     diffuse light     g = sum m R_diffuse E(2A)                  the part of R to take out
//     this lamp         G = sum m R(lamp) E(2 a(lamp))             R: mean over the tilt of the flakes
//     seen              pi F_in F_out / n^2 sum m R(incidence) D / (4 cos_lamp cos_eye)  E(a(lamp) + a(eye))
//
// each weakened by the coats above: exp(-2A X), exp(-2 a(lamp) X), exp(-(a(lamp) + a(eye)) X). Of the light
// of this lamp the share G glints; the rest meets what diffuse light meets when its single reflections are
// taken out:
//
//     rest = (1 - G) (R - g) / (1 - g)
//
// A part H of G goes where the skin turns it back; it starts again as diffuse light, so that with the
// skin's k2
//
//     seen diffusely = F_in F_out / n^2 (rest + H R) / (1 - k2 R).
//
// Without flakes that is the plain skin at these angles. A film that swallows nothing over a white that
// swallows nothing has R = 1 and so rest + G = 1: no light is made or lost, whatever the flakes do.
//
// No coat mirrors more than half of this lamp once (crowded flakes hide each other both ways); where T as a
// mean says otherwise, all its single reflections are held to that.
//
// Source     derived here; facets under a smooth skin as in Germer & Marx 2004, Appl. Opt. 43(6):1266-1274
//            (from memory); K twice the absorption of a straight ray, Kubelka & Munk (film/layer.h)
// Holds for  flakes wide against light, flat within some 20 degrees; a lamp and an eye far away; even films
//            above and below (dots are taken as their mean film); pigment between the flakes takes from a
//            slanting ray what it takes from diffuse light; the way out is not freer because the way in was,
//            which makes crowded opaque flakes a little too dark near the mirror direction
// Accuracy   lossless flakes over a lossless white give back 1 within 0.002, summed over the hemisphere and
//            the skin's own mirror included, for tilts up to 20 degrees and any loading; light and eye
//            exchanged give the same glint to rounding, unless held
// Checks     tests/film/glint_test.cpp, tests/film/pearl_test.cpp
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/colour/bands.h"
#include "fadewright/colour/spectrum.h"
#include "fadewright/film/flake_geometry.h"
#include "fadewright/film/flake_layer.h"
#include "fadewright/film/surface.h"
#include "fadewright/paint/effect_pigment.h"

#include <array>
#include <span>
#include <vector>

namespace fadewright::film {

using BandValues = std::array<double, colour::kBandCount>;

// 1. Once for each mix. It keeps pointers to the mirrors of the flakes.
struct FlakeReflectionPaint {
    struct Kind {
        paint::EffectPigment flakes;
        FlakeMeans diffuse;
    };
    std::vector<Kind> kinds;
    BandValues extinction{};        // A
    BandValues absorption{};        // K'
    BandValues scattering{};        // S'
    BandValues flake_extinction{};  // sum m (1 - T)
    BandValues mirrored{};          // sum m R_diffuse
};
[[nodiscard]] FlakeReflectionPaint flake_reflection_paint(const colour::Absorption& K,
                                                          const colour::Scattering& S,
                                                          std::span<const paint::EffectPigment> flakes,
                                                          RelativeIndex binder = {});

// 2. Once for each lamp and eye. `soft` is the deviation of the lamp's own directions about its middle, in
// air.
struct FlakeReflectionScene {
    Direction light, view;  // in air
    RelativeIndex binder;
    Degrees lamp_spread;
    FlakeGeometry geometry;
    double k2 = 0;  // of the skin
};
[[nodiscard]] FlakeReflectionScene flake_reflection_scene(const Direction& light, const Direction& view,
                                                          RelativeIndex binder = {},
                                                          Degrees lamp_spread = Degrees{0});

// 3. Once for each mix in each scene. A mix without flakes has one too: it dims the glints below it.
struct FlakeReflectionCoat {
    bool has_flakes = false;
    BandValues diffuse{}, diffuse_extinction{};  // sum m R_diffuse, 2A
    BandValues lamp{}, lamp_extinction{};        // sum m R(lamp), 2 a(lamp)
    BandValues trapped{};                        // the part of `lamp` that the skin turns back
    BandValues reflectance_factor{},
        view_extinction{};  // reflectance factor per micrometre, a(lamp) + a(eye)
};
[[nodiscard]] FlakeReflectionCoat flake_reflection_coat(const FlakeReflectionPaint& paint,
                                                        const FlakeReflectionScene& scene);

// The part of it that depends on the lamp alone takes nearly all the time (some 50 us for each kind of
// flake, the rest some 1 us). Whoever turns eye and surface about may keep it, or a table of it over
// cos_light.
struct FlakeReflectionLamp {
    BandValues mirrored{}, extinction{}, trapped{};  // lamp, lost_lamp, turned of GlintCoat
};
[[nodiscard]] FlakeReflectionLamp flake_reflection_lamp(const FlakeReflectionPaint& paint,
                                                        const FlakeReflectionScene& scene);
[[nodiscard]] FlakeReflectionCoat flake_reflection_coat(const FlakeReflectionPaint& paint,
                                                        const FlakeReflectionScene& scene,
                                                        const FlakeReflectionLamp& lamp);

// 4. At each place: coats from the top down, then outside().
class FlakeReflection {
public:
    void add(const FlakeReflectionCoat& coat, Micrometres film) noexcept;

    [[nodiscard]] const BandValues& single_scatter() const noexcept { return single_scatter_; }  // g
    [[nodiscard]] const BandValues& reflectance_factor() const noexcept {
        return reflectance_factor_;
    }  // reflectance factor outside
    [[nodiscard]] bool has_flakes() const noexcept { return has_flakes_; }

    // rest + H R, to go out through the skin with 1 / (1 - k2 R): R inside, of the whole stack.
    [[nodiscard]] double emergent(std::size_t band, double R) const noexcept;

private:
    void add_flakes(const FlakeReflectionCoat& coat, double film_um) noexcept;

    BandValues single_scatter_{}, lamp_{}, trapped_{}, reflectance_factor_{};
    BandValues diffuse_depth_{}, lamp_depth_{}, view_depth_{};  // -ln of what comes through from above
    bool has_flakes_ = false;
};

// Reflectance factor of the whole as seen: diffuse light and glint, without the skin's own mirror image.
[[nodiscard]] colour::Reflectance emergent_reflectance(const FlakeReflectionScene& scene,
                                                       const FlakeReflection& sum,
                                                       const colour::Reflectance& R) noexcept;

}  // namespace fadewright::film
