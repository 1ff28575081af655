// Flake reflection: light that a single flake reflects from the lamp to the viewer.
//
// The diffuse reflectance R of a film with flakes (film/stack.h) includes the light reflected by flakes, as
// if it left in all directions alike. But light reflected only once keeps its direction. So single
// reflections are taken out of R and added in their true direction. Flakes lie at random depths; with
//
//     m, R, T     platelet hits per micrometre, reflectance and transmittance of one flake at an angle
//                 (paint/effect_pigment.h), of each kind
//     K, S, X     of the whole coat, flakes included; K', S' without the flakes' part
//     a(d)        extinction of a ray of direction d per micrometre of depth:
//                 K' / (2 cos d) + S' + sum of m (1 - T), T the mean over all rays that can enter from air
//     A           extinction of diffuse light per micrometre:  K + S
//     E(a)        (1 - exp(-a X)) / a
//     D, F, cos   film/flake_geometry.h
//
// the shares reflected once, and the reflectance factor of the flakes, are per coat
//
//     diffuse light     g = sum m R_diffuse E(2A)                  the part of R to take out
//     this lamp         G = sum m R(lamp) E(2 a(lamp))             R: mean over the tilt of the flakes
//     viewed            pi F_in F_out / n^2 sum m R(incidence) D / (4 cos_lamp cos_view) E(a(lamp) + a(view))
//
// each attenuated by the coats above: exp(-2A X), exp(-2 a(lamp) X), exp(-(a(lamp) + a(view)) X). Of the
// light of this lamp the share G is reflected once; the remainder meets what diffuse light meets once its
// single reflections are taken out:
//
//     rest = (1 - G) (R - g) / (1 - g)
//
// A part H of G is reflected back in by the surface and continues as diffuse light, so that with the
// surface's k2
//
//     diffusely emergent = F_in F_out / n^2 (rest + H R) / (1 - k2 R).
//
// Without flakes that is the plain surface correction at these angles. A film without absorption over a white
// without absorption has R = 1 and so rest + G = 1: energy is conserved, whatever the flakes do.
//
// No coat reflects more than half of this lamp's light once (crowded flakes shadow each other on both ways);
// where the mean T says otherwise, all its single reflections are scaled down to that.
//
// Source: own derivation; facets under a smooth surface as in [germer2004]; K twice the absorption of a
//            straight ray, [kubelka1931].
// Holds for  flakes wide against the wavelength, flat within about 20 degrees; a distant lamp and viewer;
//            even films above and below (dots are taken as their mean film); pigment between the flakes
//            attenuates an oblique ray as it does diffuse light; in and out paths independent, which makes
//            crowded opaque flakes a little too dark near the mirror direction
// Accuracy   lossless flakes over a lossless white reflect 1 within 0.002, summed over the hemisphere and
//            with the surface's own reflection, for tilts up to 20 degrees and any loading; reciprocal (light
//            and view exchanged) to rounding, unless limited as above
// Checks     tests/film/flake_reflection_test.cpp, tests/film/pearl_test.cpp
#pragma once

#include "fadewright/base/quantity.h"
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

// 1. Once for each mix. It keeps pointers to the optics tables of the flakes.
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

// 2. Once for each lamp and view. `lamp_spread`: standard deviation of the lamp's own directions about its
// centre, in air.
struct FlakeReflectionScene {
    Direction light, view;  // in air
    RelativeIndex binder;
    Degrees lamp_spread;
    FlakeGeometry geometry;
    double k2 = 0;  // of the surface
};
[[nodiscard]] FlakeReflectionScene flake_reflection_scene(const Direction& light, const Direction& view,
                                                          RelativeIndex binder = {},
                                                          Degrees lamp_spread = Degrees{0});

// 3. Once for each mix in each scene. A mix without flakes has one too: it attenuates the flakes below it.
struct FlakeReflectionCoat {
    bool has_flakes = false;
    BandValues diffuse{}, diffuse_extinction{};  // sum m R_diffuse, 2A
    BandValues lamp{}, lamp_extinction{};        // sum m R(lamp), 2 a(lamp)
    BandValues trapped{};                        // the part of `lamp` that the surface reflects back in
    BandValues reflectance_factor{},
        view_extinction{};  // reflectance factor per micrometre, a(lamp) + a(view)
};
[[nodiscard]] FlakeReflectionCoat flake_reflection_coat(const FlakeReflectionPaint& paint,
                                                        const FlakeReflectionScene& scene);

// The part that depends on the lamp alone takes nearly all the time (some 50 us for each kind of flake, the
// rest some 1 us). Callers that vary only the view or the surface may store it, or a table of it over
// cos_light.
struct FlakeReflectionLamp {
    BandValues mirrored{}, extinction{}, trapped{};  // lamp, lamp_extinction, trapped of FlakeReflectionCoat
};
[[nodiscard]] FlakeReflectionLamp flake_reflection_lamp(const FlakeReflectionPaint& paint,
                                                        const FlakeReflectionScene& scene);
[[nodiscard]] FlakeReflectionCoat flake_reflection_coat(const FlakeReflectionPaint& paint,
                                                        const FlakeReflectionScene& scene,
                                                        const FlakeReflectionLamp& lamp);

// 4. At each point: coats from the top down, then emergent().
class FlakeReflection {
public:
    void add(const FlakeReflectionCoat& coat, Micrometres film) noexcept;

    [[nodiscard]] const BandValues& single_scatter() const noexcept { return single_scatter_; }  // g
    [[nodiscard]] const BandValues& reflectance_factor() const noexcept {
        return reflectance_factor_;
    }  // outside the finish
    [[nodiscard]] bool has_flakes() const noexcept { return has_flakes_; }

    // rest + H R, to leave through the surface with 1 / (1 - k2 R): R inside, of the whole stack.
    [[nodiscard]] double emergent(std::size_t band, double R) const noexcept;

private:
    void add_flakes(const FlakeReflectionCoat& coat, double film_um) noexcept;

    BandValues single_scatter_{}, lamp_{}, trapped_{}, reflectance_factor_{};
    BandValues diffuse_depth_{}, lamp_depth_{}, view_depth_{};  // -ln of the transmittance from above
    bool has_flakes_ = false;
};

// Reflectance factor of the whole: diffuse light and flakes, without the surface's own specular reflection.
[[nodiscard]] colour::Reflectance emergent_reflectance(const FlakeReflectionScene& scene,
                                                       const FlakeReflection& sum,
                                                       const colour::Reflectance& R) noexcept;

}  // namespace fadewright::film
