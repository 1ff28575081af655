// One flake as a mirror: what it sends back and lets through at every angle, worked out from what it is
// made of.
//
// A pearl flake is a clear core between two like coats of oxide. Light is mirrored at each coat and beats
// between the two; how thick the oxide is makes the colour, and how thick the core is would make another,
// were the flakes of a pot not all different. So both are averaged over their spread. With r, r' the
// amplitudes mirrored by one coat from outside and from the core, t t' the way through it and back, and the
// core's phase delta = 4 pi n d cos t / wavelength:
//
//     rho = r'^2,  B = r' (t t' - r r'),  z = exp(-i delta)
//     R = |r + B z|^2 / |1 - rho z|^2,   T = |t t'|^2 / |1 - rho z|^2
//     1 / |1 - rho z|^2 = sum over all m of |rho|^|m| exp(i m arg rho) z^m / (1 - |rho|^2)
//     mean of z^m over cores of deviation s = exp(-i m delta - m^2 s^2 / 2)
//
// so the mean over the cores is a short sum; that over the oxide is taken at Gauss-Hermite nodes. An
// aluminium flake is one sheet. Reflected and passed shares are the mean of both polarisations.
//
// Symbols    oxide: thickness of the outer coat on each face; under: of the iron oxide below titania;
//            spreads: standard deviations; pores: share of the oxide coats that is binder
// Source     thin_film.h, flake_materials.h; the sum over the cores derived here
// Holds for  flakes much wider than light is long, in a clear binder of lower index than they; spreads up
//            to a third of the core, and a quarter of the oxide (larger ones are taken as that); both coats
//            of one flake alike; the iron oxide below titania without spread. Light guided inside the flake
//            and its edges are left out
// Accuracy   cores: 1e-9 against 1000 plain stacks; oxide: 1e-5 up to 45 degrees, 3e-4 at 80; colours of 62
//            thicknesses of titania on mica within 0.35 (CIE 1976) of a table at 5 nm; about 2 ms a mirror
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

// One flake without spreads at one angle of meeting in the binder: the plain road, for tests and questions.
[[nodiscard]] PolarisedRT flake_rt(const FlakeStructure& structure, std::size_t band, Degrees incidence,
                                   RelativeIndex binder = {});

// Coats and core together, the rims left out; pores hold no oxide.
[[nodiscard]] Micrometres flake_thickness(const FlakeStructure& structure) noexcept;
[[nodiscard]] GramsPerMillilitre flake_density(const FlakeStructure& structure) noexcept;

// A table of the mirror, straight between its rows; 0 to 90 degrees, the sign of the angle does not count.
[[nodiscard]] double reflected_at(const paint::FlakeOpticsTable& mirror, std::size_t band,
                                  Degrees incidence) noexcept;
[[nodiscard]] double transmitted_at(const paint::FlakeOpticsTable& mirror, std::size_t band,
                                    Degrees incidence) noexcept;

}  // namespace fadewright::film
