// The one wavelength grid of the program: 36 bands, 380 to 730 nm by 10.
//
// Data on other grids are resampled onto it when they are read (colour/spectrum.h); nothing inside
// the program uses another grid.
#pragma once

#include <cstddef>

namespace fadewright::colour {

inline constexpr std::size_t kBandCount = 36;
inline constexpr double kFirstBand_nm = 380.0;
inline constexpr double kBandStep_nm = 10.0;
inline constexpr double kLastBand_nm = kFirstBand_nm + kBandStep_nm * (kBandCount - 1);

constexpr double band_nm(std::size_t band) noexcept {
    return kFirstBand_nm + kBandStep_nm * static_cast<double>(band);
}

// The band at 550 nm, where the eye is most sensitive.
inline constexpr std::size_t kGreenBand = 17;
static_assert(band_nm(kGreenBand) == 550);

}  // namespace fadewright::colour
