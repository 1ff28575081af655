// Surface of a finish: the smooth boundary between air and binder, crossed by light on its way in and out.
//
// Pigments scatter light inside the binder; viewers and instruments are outside. The surface reflects a
// little of the incident light, and reflects much of the diffuse light from below back onto the pigments.
// With
//
//     R     reflectance inside the film, 0 to 1
//     k1    share of the incident light that the surface reflects
//     k2    share of the diffuse light from below that the surface reflects back in
//     R_m   reflectance measured outside
//
//     R_m = k1 + (1 - k1)(1 - k2) R / (1 - k2 R)          specular included
//     R_m =      (1 - k1)(1 - k2) R / (1 - k2 R)          specular excluded
//     R_m = (1 - F_45)(1 - F_0) / n^2 R / (1 - k2 R)      45:0, lit at 45 degrees, viewed along the normal
//
// F is Fresnel's reflectance for unpolarised light; k2 follows from its mean over all directions, r_in = 1 -
// (1 - r_out)/n^2, where r_out has a closed form (surface.cpp). A clear coat of the same binder adds no
// second surface: correct once, at the top of the stack.
//
// Source: [saunderson1942]; [duntley1942] (r_out; agrees with quadrature for 1.01 <= n <= 2.5).
// Holds for  a flat surface and fully diffuse light inside; real films often behave as if k2 were a little
//            lower
// Accuracy   external_reflectance() and internal_reflectance() invert each other to 1e-14 for 0 <= R <= 1,
//            index 1.5
// Checks     tests/film/surface_test.cpp; tests/published/saunderson.csv, fresnel_diffuse.csv
#pragma once

#include "fadewright/base/quantity.h"

namespace fadewright::film {

// Refractive index of the binder relative to air; at least 1.
struct RelativeIndex {
    double value = 1.5;  // acrylic, polyurethane and most other paint binders (common practice)
};

struct SaundersonCorrection {
    double k1 = 0;
    double k2 = 0;

    friend bool operator==(const SaundersonCorrection&, const SaundersonCorrection&) = default;
};

inline constexpr SaundersonCorrection kNoSurface{};  // dead matt, or light that is still inside

enum class Specular { included, excluded };

// Light incident along the normal (k1 = F_0), diffuse inside.
[[nodiscard]] SaundersonCorrection surface_at_normal(RelativeIndex binder) noexcept;

// Reflectance inside the film -> outside, and the inverse. internal_reflectance() returns 0 for a reading
// darker than the surface alone, which no film can give: callers with readings compare with k1 and report it.
[[nodiscard]] constexpr double external_reflectance(SaundersonCorrection surface, double inside,
                                                    Specular specular = Specular::included) noexcept {
    const double mirrored = specular == Specular::included ? surface.k1 : 0;
    const double trapped = 1 - surface.k2 * inside;
    const double emergent = trapped <= 0 ? 1 : (1 - surface.k2) * inside / trapped;
    return mirrored + (1 - surface.k1) * emergent;
}
[[nodiscard]] double internal_reflectance(SaundersonCorrection surface, double measured,
                                          Specular specular = Specular::included) noexcept;

// Reflectance factor at 45:0; above 1 for a nearly perfect white, as this geometry allows.
[[nodiscard]] double external_reflectance_45_0(RelativeIndex binder, double inside) noexcept;

// Fresnel reflectance of unpolarised light incident from air, 0 to 90 degrees from the normal.
[[nodiscard]] double fresnel(RelativeIndex binder, Degrees incidence) noexcept;

// Its mean over diffuse light, incident from air or from inside the binder.
[[nodiscard]] double diffuse_from_air(RelativeIndex binder) noexcept;
[[nodiscard]] double diffuse_from_inside(RelativeIndex binder) noexcept;

// Haze: near-specular reflection of a gloss surface, a few degrees beside the mirror direction.
//
// A surface that is slightly rough, or has fine matter in it, still reflects the light F of Fresnel's law,
// but the share h of it leaves in a lobe about the mirror direction, a degrees off it:
//
//     g(a)     exp(-a^2 / (2 s^2)) / (2 pi s^2)            per steradian; its integral is 1
//     factor   pi F g(a) / cos(view)                       reflectance factor of the lobe, for h = 1
//
// so energy is conserved: 1 - h stays in the sharp image. Viewed off the highlight, haze lifts darks near the
// mirror direction; under diffuse light the share h k1 of the surface reflection reaches the viewer
// everywhere. A matt surface (paint::Paint::flatting) spreads its share f over all directions first; haze is
// of the rest, 1 - f.
//
// Source: [astmE430] (2, 5 and 15 degrees), [iso13803]: haze is light scattered some degrees off the mirror
//            direction. A Gaussian lobe of a width of our own derivation: strong at 2 and 5 degrees and all
//            but gone at 15.
// Holds for  haze of the surface, for any width of the lamp; haze within the film is scattering S of the
//            clear. Flake reflection is not blurred by it: refraction deviates a ray by a quarter of what
//            reflection does
// Accuracy   the lobe summed over the hemisphere is F within 1 % up to 60 degrees
// Checks     tests/film/haze_test.cpp

inline constexpr Degrees kHazeSpread{5};  // s

// The lobe g, `spread` its standard deviation; both above 0 (contract: spread).
[[nodiscard]] double lobe(Degrees off_mirror, Degrees spread);

// For a beam at this incidence, viewed `off_mirror` from its mirror direction at cos_view from the normal.
// `lamp`: standard deviation of the lamp's own directions.
[[nodiscard]] double haze_factor(RelativeIndex binder, Degrees incidence, Degrees off_mirror, double cos_view,
                                 Degrees lamp = Degrees{0});

}  // namespace fadewright::film
