// A sprayed card as a scanner would show it, for the tests of the command `fit-gun`.
//
// A forward simulation: the film of spray::Deposit, the colour of film::reflectance_over in all bands,
// uneven light, and eight bits with noise. No table of the reader is used.
#pragma once

#include "fadewright/base/image.h"
#include "fadewright/base/random.h"
#include "fadewright/colour/illuminant.h"
#include "fadewright/colour/srgb.h"
#include "fadewright/film/stack.h"
#include "fadewright/paint/mix.h"
#include "fadewright/spray/deposit.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <vector>

namespace fadewright::test {

struct SprayPatternCard {
    spray::Gun gun;
    spray::Pass pass;  // in millimetres from the lower left corner of the card
    paint::MixedPaint mix;
    colour::Reflectance ground;  // inside
    int width_px = 360, height_px = 240;
    double mm_per_px = 0.5;
    double noise_codes = 1;
    double falloff = 0.06;               // how much darker the light is in the far corner
    double lamp[3] = {0.9, 0.88, 0.84};  // of full white
    double graininess = 0;               // of the film, from pixel to pixel, as a share
    std::uint64_t seed = 1;
    int bar_px = 0;  // length of a black scale bar along the lower edge; none if 0
};

inline constexpr int kBarLeft = 20, kBarAbove = 8, kBarHeight = 4;  // pixels; above the lower edge

inline double gaussian(std::uint64_t seed, std::uint64_t stream, std::uint64_t index) {
    const double u = uniform01(seed, 2 * stream, index), v = uniform01(seed, 2 * stream + 1, index);
    return std::sqrt(-2 * std::log(1 - u)) * std::cos(2 * std::numbers::pi * v);
}

inline Picture scan_of_card(const SprayPatternCard& card) {
    const auto weights = colour::tristimulus_weights(
        colour::standard_illuminant(colour::StandardIlluminant::D65), colour::Observer::two_degree);
    const auto surface = film::surface_at_normal({});
    const spray::Deposit deposit(card.gun, std::vector<spray::Pass>{card.pass});
    const double dry = paint::dry_per_wet(card.mix);
    Picture picture(card.width_px, card.height_px, 3);
    for (int y = 0; y < card.height_px; ++y)
        for (int x = 0; x < card.width_px; ++x) {
            const auto index = static_cast<std::uint64_t>(y * card.width_px + x);
            const double graininess = 1 + card.graininess * gaussian(card.seed, 7, index);
            const double wet_um =
                std::max(0.0, graininess) *
                deposit.wet_um((x + 0.5) * card.mm_per_px, (card.height_px - y - 0.5) * card.mm_per_px);
            const auto R = film::reflectance_over(card.mix, Micrometres{dry * wet_um}, card.ground);
            const auto rgb = colour::to_linear_srgb(
                colour::to_xyz(film::through_surface(R, surface, film::Specular::excluded), weights),
                weights.white);
            // One lamp: brightest off centre, falling off with the square of the distance.
            const double u = static_cast<double>(x) / card.width_px - 0.35,
                         v = static_cast<double>(y) / card.height_px - 0.4;
            const double light = 1 - card.falloff * (u * u + v * v) / 0.7825;
            const bool bar = x >= kBarLeft && x < kBarLeft + card.bar_px && y >= card.height_px - kBarAbove &&
                             y < card.height_px - kBarAbove + kBarHeight;
            const double ink = bar ? 0.03 : 1;
            const double linear[] = {ink * rgb.r, ink * rgb.g, ink * rgb.b};
            for (std::size_t c = 0; c < 3; ++c) {
                const double code =
                    255 * colour::srgb_from_linear(std::clamp(light * card.lamp[c] * linear[c], 0.0, 1.0));
                const double noisy = code + card.noise_codes * gaussian(card.seed, c, index);
                picture.pixel(x, y)[c] =
                    static_cast<std::uint8_t>(std::lround(std::clamp(noisy, 0.0, 255.0)));
            }
        }
    return picture;
}

}  // namespace fadewright::test
