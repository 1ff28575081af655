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

}  // namespace fadewright::film
