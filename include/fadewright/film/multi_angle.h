// What an eye sees of a finish from several sides: the colours by which flakes are told.
//
// The light falls at 45 degrees and the eye is turned away from its mirror image by the aspecular angle. 15
// degrees is near the shine, where flakes glint; 110 is far from it, where only what lies between and below
// them is seen.
//
//     seen = skin(rest + H R) + glint            rest, H, glint of film/glint.h
//
// The skin is that of film/skin.h for diffuse light at every angle, so that a finish without flakes looks the
// same from all sides, and the same as film/looker.h sees it. A lightness above 100 is legitimate: brighter
// there than a white sheet.
//
// Source     angles as in ASTM E2194 and E2539 (from memory); film/glint.h; the flop index of colour/flop.h
// Holds for  what glint.h holds for; dots are taken as their mean film where they hold flakes
// Checks     tests/film/angled_test.cpp
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

// One band of a finish as seen, R its reflectance inside; the plain skin if nothing glints.
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
