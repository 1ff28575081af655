// Multi-angle colour of a finish: its colours at the aspecular angles, by which effect paints are judged.
//
// The light falls at 45 degrees; the view is turned away from the mirror direction by the aspecular angle. 15
// degrees is near-specular, where flakes reflect; 110 is the flop, where only what lies between and below
// them shows.
//
//     emergent = surface(rest + H R) + flakes         rest, H, flakes of film/flake_reflection.h
//
// The surface correction is that of film/surface.h for diffuse light at every angle, so that a finish without
// flakes has the same colour at all angles, and the same as in film/colorimeter.h. A lightness above 100 is
// legitimate: brighter there than a perfect white diffuser.
//
// Source: [astmE2194], [astmE2539] (angles), [alman1987] (flop index); the rest is our own derivation.
// Holds for  what flake_reflection.h holds for; dots are taken as their mean film where they hold flakes
// Checks     tests/film/multi_angle_test.cpp
#pragma once

#include "fadewright/colour/lab.h"
#include "fadewright/film/colorimeter.h"
#include "fadewright/film/flake_reflection.h"
#include "fadewright/film/stack.h"

#include <array>
#include <span>

namespace fadewright::film {

inline constexpr std::array kAspecular{Degrees{-15}, Degrees{15}, Degrees{25},
                                       Degrees{45},  Degrees{75}, Degrees{110}};

[[nodiscard]] bool has_flakes(const paint::MixedPaint& mix) noexcept;

[[nodiscard]] FlakeReflectionScene aspecular_scene(Degrees aspecular);

// One band of a finish, R its reflectance inside; the plain surface correction without flakes.
[[nodiscard]] double external_reflectance_with_flakes(SaundersonCorrection surface,
                                                      const FlakeReflection& sum, std::size_t band, double R,
                                                      Specular specular = Specular::excluded) noexcept;

[[nodiscard]] colour::Reflectance multi_angle_reflectance(std::span<const Coat> bottom_up,
                                                          const colour::Reflectance& ground,
                                                          const FlakeReflectionScene& scene,
                                                          SaundersonCorrection surface,
                                                          Specular specular = Specular::excluded);

struct MultiAngleColour {
    std::array<colour::Lab, kAspecular.size()> labs;  // in the order of kAspecular
    double flop = 0;

    [[nodiscard]] const colour::Lab& at(Degrees aspecular) const;  // one of kAspecular
};

[[nodiscard]] MultiAngleColour multi_angle_colour(std::span<const Coat> bottom_up,
                                                  const colour::Reflectance& ground,
                                                  const Colorimeter& colorimeter);

}  // namespace fadewright::film
