// The skin of a finish: the smooth boundary between air and binder, crossed by light on its way in and out.
//
// Pigments send light back inside the binder; eyes and instruments are outside. The skin mirrors a little of
// the light that arrives, and throws much of what comes from below back down onto the pigments. With
//
//     R     reflectance inside the film, 0 to 1
//     k1    share of the arriving light that the skin mirrors
//     k2    share of the diffuse light from below that the skin turns back
//     R_m   reflectance measured outside
//
//     R_m = k1 + (1 - k1)(1 - k2) R / (1 - k2 R)          mirror light counted (specular included)
//     R_m =      (1 - k1)(1 - k2) R / (1 - k2 R)          mirror light trapped (specular excluded)
//     R_m = (1 - F_45)(1 - F_0) / n^2 R / (1 - k2 R)      lit at 45 degrees, viewed straight on
//
// F is Fresnel's reflection of unpolarised light; k2 follows from its mean over all directions,
// r_in = 1 - (1 - r_out)/n^2, where r_out has a closed form (skin.cpp). A clear coat of the same binder adds
// no second skin: correct once, at the top of the stack.
//
// Source     Saunderson 1942, J. Opt. Soc. Am. 32(12):727-736, doi:10.1364/JOSA.32.000727;
//            Duntley 1942, J. Opt. Soc. Am. 32(2):61-70, doi:10.1364/JOSA.32.000061 (r_out; from memory,
//            agrees with quadrature for 1.01 <= n <= 2.5)
// Holds for  a flat skin and fully diffuse light inside; real films often behave as if k2 were a little lower
// Accuracy   measured() and internal() undo each other to 1e-14 for 0 <= R <= 1 at index 1.5
// Checks     tests/film/skin_test.cpp; tests/published/saunderson.csv, fresnel_diffuse.csv
#pragma once

#include "fadewright/base/quantity.h"

namespace fadewright::film {

// Index of the binder over that of air; at least 1.
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

// Light arriving straight on (k1 = F_0), diffuse inside.
[[nodiscard]] SaundersonCorrection surface_at_normal(RelativeIndex binder) noexcept;

// Reflectance inside the film -> outside, and back. internal() returns 0 for a reading darker than the skin
// alone, which no film can give: the caller who has readings compares with k1 and says so.
[[nodiscard]] constexpr double external_reflectance(SaundersonCorrection surface, double inside,
                                                    Specular specular = Specular::included) noexcept {
    const double mirrored = specular == Specular::included ? surface.k1 : 0;
    const double trapped = 1 - surface.k2 * inside;
    const double emergent = trapped <= 0 ? 1 : (1 - surface.k2) * inside / trapped;
    return mirrored + (1 - surface.k1) * emergent;
}
[[nodiscard]] double internal_reflectance(SaundersonCorrection surface, double measured,
                                          Specular specular = Specular::included) noexcept;

// Reflectance factor at 45:0; above 1 for a nearly perfect white, as the geometry allows.
[[nodiscard]] double external_reflectance_45_0(RelativeIndex binder, double inside) noexcept;

// Fresnel reflection of unpolarised light that arrives from the air, 0 to 90 degrees from the normal.
[[nodiscard]] double fresnel(RelativeIndex binder, Degrees incidence) noexcept;

// Its mean over diffuse light, arriving from the air or from inside the binder.
[[nodiscard]] double diffuse_from_air(RelativeIndex binder) noexcept;
[[nodiscard]] double diffuse_from_inside(RelativeIndex binder) noexcept;

}  // namespace fadewright::film
