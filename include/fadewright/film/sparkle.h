// Sparkle: single flakes that flash, and how uneven a thin coat of them is.
//
// At one angle only a few of the flakes stand so that they mirror the lamp to the eye. The smaller the
// lamp, the fewer and the brighter they are. Lamp: a cone of half angle alpha; its directions become
// normals of flakes through Snell's law and the law of the mirror, so that per area
//
//     W     2 pi (1 - cos alpha) cos_lamp / (n^2 cos_lamp_b) / (4 cos_incidence)      solid angle of normals
//     N     flakes over the area times D cos(tilt) W                                   those that glint
//
// (b: in the binder). Their number is Poisson, their areas differ by the variation c, and those deep in the
// film are dimmed by exp(-a x). The mean glint over an area A then deviates with the variance
//
//     power / A,   power = Y^2 (1 + c^2) d / N,    d = (aX/2) / tanh(aX/2)
//
// which is the noise of film/grain.h, to be drawn by a white field of places in millimetres.
//
// A coat with too few flakes is patchy: the share exp(-m X) of places has none, and their number on a square
// centimetre deviates by sqrt((1 + c^2) / number).
//
// Symbols    D, tilt, incidence: film/flake_geometry.h; Y luminance of the glint; a as in film/glint.h
// Source     derived here; Boolean model as in film/grain.h; limits of patchiness our own, uncalibrated
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

// Deviation of the areas of flakes over their mean: sieved powders (assumption).
inline constexpr double kDefaultAreaVariation = 0.6;

// Half angle under which the sun is seen, and an unfrosted bulb from a metre or two (common practice, no
// source).
inline constexpr Degrees kSun{0.265};
inline constexpr Degrees kBulb{1.5};

struct Sparkle {
    double sparkling_per_cm2 = 0;
    double relative_power_mm2 = 0;  // times 1/A: variance of the mean over A mm2 by its square; 0: none
};

// Share of the flakes that glint, D cos(tilt) W: the same for any film.
[[nodiscard]] double sparkling_share(const paint::EffectPigment& flakes, const FlakeReflectionScene& scene,
                                     Degrees lamp);

// lost_per_um: a(lamp) + a(eye) of GlintCoat, in the band or mean of bands that counts.
[[nodiscard]] Sparkle sparkle(const paint::EffectPigment& flakes, Micrometres film,
                              const FlakeReflectionScene& scene, Degrees lamp, double extinction_per_um = 0,
                              double area_variation = kDefaultAreaVariation);

[[nodiscard]] Sparkle sparkle(const paint::EffectPigment& flakes, Micrometres film, double sparkling_share,
                              double extinction_per_um, double area_variation = kDefaultAreaVariation);

// The same as a noise power of luminance, for a glint of luminance Y.
[[nodiscard]] double sparkle_power_mm2(const Sparkle& sparkle, double Y) noexcept;

struct Patchiness {
    double gap_share = 0;  // of the area, without any flake
    double noise_1cm = 0;  // relative deviation of the number on a square centimetre

    // 1 at the limit of what shows.
    [[nodiscard]] double index() const noexcept;
};
inline constexpr double kMaxGapShare = 0.5;
inline constexpr double kMaxNoise_1cm = 0.03;

[[nodiscard]] Patchiness patchiness(const paint::EffectPigment& flakes, Micrometres film,
                                    double area_variation = kDefaultAreaVariation);

// Its figure for a film of several kinds: of the one that fills best. None without flakes.
[[nodiscard]] std::optional<double> patchiness_index(std::span<const paint::EffectPigment> kinds,
                                                     Micrometres film);

}  // namespace fadewright::film
