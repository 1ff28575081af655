// Sparkle: single flakes that flash, and the patchiness of a thin coat of flakes.
//
// At one angle only a few of the flakes are oriented to reflect the lamp to the viewer. The smaller the lamp,
// the fewer and the brighter they are. Lamp: a cone of half angle alpha; its directions map to flake normals
// through Snell's law and the law of reflection, so that per area
//
//     W     2 pi (1 - cos alpha) cos_lamp / (n^2 cos_lamp_b) / (4 cos_incidence)      solid angle of normals
//     N     flakes over the area times D cos(tilt) W                                   sparkling flakes
//
// (b: in the binder). Their number is Poisson distributed, their areas vary by the coefficient c, and those
// deep in the film are attenuated by exp(-a x). The mean flake reflection over an area A then has the
// variance
//
//     power / A,   power = Y^2 (1 + c^2) d / N,    d = (aX/2) / tanh(aX/2)
//
// which is the noise of film/graininess.h, to be drawn as white noise over points in millimetres.
//
// A coat with too few flakes is patchy: the share exp(-m X) of its area has none, and their number on a
// square centimetre varies by sqrt((1 + c^2) / number).
//
// Symbols    D, tilt, incidence: film/flake_geometry.h; Y luminance of the flake reflection; a: extinction,
//            film/flake_reflection.h
// Source: own derivation from the Boolean model [matheron1975]; the limits of patchiness are our own,
//            uncalibrated.
// Holds for  areas much larger than a flake; lamps so small that D changes little over W (alpha below half
//            the tilt); flakes placed at random, without the clouds that a gun or gravity makes
// Accuracy   number, mean and variance within three standard errors of simulated flakes (2 % and 8 %)
// Checks     tests/film/sparkle_test.cpp
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/film/flake_reflection.h"
#include "fadewright/paint/effect_pigment.h"

#include <optional>
#include <span>

namespace fadewright::film {

// Standard deviation of the areas of flakes over their mean: sieved powders (assumption).
inline constexpr double kDefaultAreaVariation = 0.6;

// Angular radius of the sun, and of an unfrosted bulb at a metre or two (common practice, no source).
inline constexpr Degrees kSun{0.265};
inline constexpr Degrees kBulb{1.5};

struct Sparkle {
    double sparkling_per_cm2 = 0;
    double relative_power_mm2 = 0;  // times 1/A: variance over A mm2 by squared mean; 0: none
};

// Share of the flakes that sparkle, D cos(tilt) W: independent of the film.
[[nodiscard]] double sparkling_share(const paint::EffectPigment& flakes, const FlakeReflectionScene& scene,
                                     Degrees lamp);

// extinction_per_um: a(lamp) + a(view) of FlakeReflectionCoat, in the relevant band or mean of bands.
[[nodiscard]] Sparkle sparkle(const paint::EffectPigment& flakes, Micrometres film,
                              const FlakeReflectionScene& scene, Degrees lamp, double extinction_per_um = 0,
                              double area_variation = kDefaultAreaVariation);

[[nodiscard]] Sparkle sparkle(const paint::EffectPigment& flakes, Micrometres film, double sparkling_share,
                              double extinction_per_um, double area_variation = kDefaultAreaVariation);

// The same as a noise power of luminance, for a flake reflection of luminance Y.
[[nodiscard]] double sparkle_power_mm2(const Sparkle& sparkle, double Y) noexcept;

struct Patchiness {
    double gap_share = 0;  // of the area, without a flake
    double noise_1cm = 0;  // relative standard deviation of the number per cm2

    // 1 at the visibility limit.
    [[nodiscard]] double index() const noexcept;
};
inline constexpr double kMaxGapShare = 0.5;
inline constexpr double kMaxNoise_1cm = 0.03;

[[nodiscard]] Patchiness patchiness(const paint::EffectPigment& flakes, Micrometres film,
                                    double area_variation = kDefaultAreaVariation);

// For a film of several kinds: of the kind that covers best. None without flakes.
[[nodiscard]] std::optional<double> patchiness_index(std::span<const paint::EffectPigment> kinds,
                                                     Micrometres film);

}  // namespace fadewright::film
