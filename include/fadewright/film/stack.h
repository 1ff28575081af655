// Coats of mixed paint over a ground, in all bands, inside and outside the surface.
//
// Inside the finish each coat changes the reflectance of what lies below it, from the ground up; only at the
// very top does light cross the surface, once:
//
//     R <- ground, inside the binder
//     for each coat, bottom first:   R <- coat over R        as an even film, or as dots
//     outside = surface(R)
//
// A ground or a colour measured in air was read through a surface: convert it by below_surface() first. A
// dead matt ground without a gloss surface (paper, bare primer) is taken as it is: kNoSurface.
//
// Source: [kubelka1948], [kubelka1954], [saunderson1942]; dots: own derivation.
// Holds for  coats of one binder index, so that no light is reflected between them
// Checks     tests/film/stack_test.cpp
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/colour/spectrum.h"
#include "fadewright/film/surface.h"
#include "fadewright/paint/mix.h"

#include <span>

namespace fadewright::film {

// An even film of the mix over the ground.
[[nodiscard]] colour::Reflectance reflectance_over(const paint::MixedPaint& mix, Micrometres film,
                                                   const colour::Reflectance& ground);

// The same paint as droplets that dried before they joined: mean_film on average, splat the mean dry
// thickness of one. Always weaker than the even film; a splat of 0 is the even film.
[[nodiscard]] colour::Reflectance lay_dots(const paint::MixedPaint& mix, Micrometres mean_film,
                                           Micrometres splat, const colour::Reflectance& ground);

// Reflectance at full hiding.
[[nodiscard]] colour::Reflectance masstone(const paint::MixedPaint& mix);

struct Coat {
    const paint::MixedPaint* mix = nullptr;
    Micrometres film;   // dry, on average over the dots if there are any
    Micrometres splat;  // 0: an even film
};

[[nodiscard]] colour::Reflectance lay_stack(std::span<const Coat> bottom_up,
                                            const colour::Reflectance& ground);

// Out through the surface, and the inverse. below_surface() takes readings darker than the surface alone as
// black.
[[nodiscard]] colour::Reflectance through_surface(const colour::Reflectance& inside,
                                                  SaundersonCorrection surface,
                                                  Specular specular = Specular::included);
[[nodiscard]] colour::Reflectance below_surface(const colour::Reflectance& measured,
                                                SaundersonCorrection surface,
                                                Specular specular = Specular::included);

}  // namespace fadewright::film
