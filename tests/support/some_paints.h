// Invented paints for the tests of films.
#pragma once

#include "fadewright/base/random.h"
#include "fadewright/paint/mix.h"
#include "fadewright/paint/parametric_ks.h"

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace fadewright::test {

// Red, green and blue thirds of the spectrum, for checks that were drawn up with three bands.
struct ThreeBands {
    double red, green, blue;
};

inline std::size_t third_of(std::size_t band) {
    constexpr double blue_ends_nm = 495, green_ends_nm = 585;
    const double nm = colour::band_nm(band);
    return nm < blue_ends_nm ? 2 : nm < green_ends_nm ? 1 : 0;
}

template <class Spectrum>
Spectrum in_thirds(ThreeBands v) {
    const double by_third[] = {v.red, v.green, v.blue};
    Spectrum spectrum;
    for (std::size_t band = 0; band < colour::kBandCount; ++band) spectrum[band] = by_third[third_of(band)];
    return spectrum;
}

template <class Spectrum>
ThreeBands thirds_of(const Spectrum& spectrum) {
    constexpr std::size_t red = 30, green = 17, blue = 7;  // 680, 550 and 450 nm
    return {spectrum[red], spectrum[green], spectrum[blue]};
}

inline paint::Paint make_paint(const colour::Absorption& K, const colour::Scattering& S) {
    paint::Paint paint;
    paint.K = K;
    paint.S = S;
    return paint;
}

inline paint::MixedPaint unmixed(const paint::Paint& paint) {
    return paint::mix_paints(std::vector<paint::Part>{{&paint, 1}});
}

inline std::vector<const paint::Paint*> pointers(const std::vector<paint::Paint>& paints) {
    std::vector<const paint::Paint*> all;
    for (const paint::Paint& paint : paints) all.push_back(&paint);
    return all;
}

// A few dozen paints from clear to black and from dye to white, each band its own.
inline std::vector<paint::MixedPaint> random_mixes(std::uint64_t seed, std::size_t count) {
    std::vector<paint::MixedPaint> mixes(count);
    for (std::size_t i = 0; i < count; ++i)
        for (std::size_t band = 0; band < colour::kBandCount; ++band) {
            mixes[i].K[band] = i % 9 == 4 ? 0 : std::pow(10.0, -4 + 4.5 * uniform01(seed, 2 * i, band));
            mixes[i].S[band] = i % 8 == 3 ? 0 : std::pow(10.0, -3 + 2.5 * uniform01(seed, 2 * i + 1, band));
        }
    return mixes;
}

inline colour::Reflectance random_ground(std::uint64_t seed, std::size_t i) {
    colour::Reflectance R;
    for (std::size_t band = 0; band < colour::kBandCount; ++band) R[band] = uniform01(seed, i, band);
    return R;
}

}  // namespace fadewright::test
