// Optics of one flake: reflectance and transmittance at every angle, calculated from its structure.
//
// A pearl flake is a clear core between two equal oxide coats. Light reflected at the coats interferes; the
// oxide thickness sets the colour, while the core thickness differs from flake to flake. Both are averaged
// over their distributions. With r, r' the amplitude reflection coefficients of one coat from outside and
// from the core, t t' the transmission through it and back, and the phase of the core delta = 4 pi n d cos t
// / wavelength:
//
//     rho = r'^2,  B = r' (t t' - r r'),  z = exp(-i delta)
//     R = |r + B z|^2 / |1 - rho z|^2,   T = |t t'|^2 / |1 - rho z|^2
//     1 / |1 - rho z|^2 = sum over all m of |rho|^|m| exp(i m arg rho) z^m / (1 - |rho|^2)
//     mean of z^m over cores of deviation s = exp(-i m delta - m^2 s^2 / 2)
//
// so the mean over the cores is a short sum; that over the oxide is a Gauss-Hermite quadrature. An aluminium
// flake is a single layer. Reflectance and transmittance are means of both polarisations.
//
// Symbols    oxide: thickness of the outer coat on each face; iron_oxide: of the layer below titania;
//            spreads: standard deviations; porosity: share of the oxide coats that is binder
// Source: own derivation (the sum over the cores); thin films and materials as in their headers.
// Holds for  flakes much wider than the wavelength, in a clear binder of lower index than theirs; spreads up
//            to a third of the core and a quarter of the oxide (clamped); both coats of a flake equal; the
//            iron oxide below titania without spread. Light guided inside the flake and its edges are
//            neglected
// Accuracy   cores: 1e-9 against 1000 single stacks; oxide: 1e-5 up to 45 degrees, 3e-4 at 80; colours of 62
//            thicknesses of titania on mica within 0.35 (CIE 1976) of a table at 5 nm; about 2 ms per table
// Checks     tests/film/flake_test.cpp, tests/published/flake_colour.csv
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/film/surface.h"
#include "fadewright/film/thin_film.h"
#include "fadewright/paint/effect_pigment.h"

#include <cstddef>

namespace fadewright::film {

struct FlakeStructure {
    paint::FlakeKind kind = paint::FlakeKind::titania_on_mica;
    paint::Titania crystal = paint::Titania::anatase;
    Nanometres oxide{60};  // titania; iron oxide in iron_oxide_on_mica; none on aluminium
    Nanometres oxide_spread{0};
    Nanometres iron_oxide{0};  // iron oxide of titania_on_iron_oxide_on_mica
    Nanometres core{350};
    Nanometres core_spread{80};
    Micrometres size{20};  // mean diameter
    Share porosity{0};
};

[[nodiscard]] paint::FlakeOpticsTable flake_optics_table(const FlakeStructure& structure,
                                                         RelativeIndex binder = {});

// One flake without spreads at one angle of incidence in the binder: reference implementation.
[[nodiscard]] PolarisedRT flake_rt(const FlakeStructure& structure, std::size_t band, Degrees incidence,
                                   RelativeIndex binder = {});

// Coats and core together, edges neglected; pores hold no oxide.
[[nodiscard]] Micrometres flake_thickness(const FlakeStructure& structure) noexcept;
[[nodiscard]] GramsPerMillilitre flake_density(const FlakeStructure& structure) noexcept;

// Linear interpolation in the table; 0 to 90 degrees, the sign of the angle is ignored.
[[nodiscard]] double reflected_at(const paint::FlakeOpticsTable& optics, std::size_t band,
                                  Degrees incidence) noexcept;
[[nodiscard]] double transmitted_at(const paint::FlakeOpticsTable& optics, std::size_t band,
                                    Degrees incidence) noexcept;

}  // namespace fadewright::film
