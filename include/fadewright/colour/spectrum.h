// Spectra with a type for each physical quantity.
//
// A reflectance, an absorption and a spectral power are all 36 numbers, and confusing them gives a plausible
// but wrong colour. Each has its own type; only paint/mix and the film layer convert one into another.
//
// resample() brings measured data (any increasing grid) to the program's bands: piecewise cubic through the
// points (monotone, so without overshoot), ends held constant for missing wavelengths.
// Source: [fritsch1984], [astmE308].
#pragma once

#include <array>
#include <cstddef>
#include <span>

namespace fadewright::colour {

// The one wavelength grid of the program: 36 bands, 380 to 730 nm by 10. Data on other grids are resampled onto
// it when they are read; nothing inside the program uses another grid.
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

template <class Kind>
struct Spectrum {
    std::array<double, kBandCount> values{};

    [[nodiscard]] constexpr double operator[](std::size_t band) const noexcept { return values[band]; }
    [[nodiscard]] constexpr double& operator[](std::size_t band) noexcept { return values[band]; }

    friend constexpr bool operator==(const Spectrum&, const Spectrum&) = default;

    [[nodiscard]] static constexpr Spectrum constant(double v) noexcept {
        Spectrum c;
        c.values.fill(v);
        return c;
    }
};

struct ReflectanceKind;
struct AbsorptionKind;
struct ScatteringKind;
struct SpdKind;

using Reflectance = Spectrum<ReflectanceKind>;  // 0 to 1
using Absorption = Spectrum<AbsorptionKind>;    // K, per micrometre of dry film
using Scattering = Spectrum<ScatteringKind>;    // S, per micrometre of dry film
using Spd = Spectrum<SpdKind>;                  // relative

// values.size() == wavelengths_nm.size() >= 1; wavelengths strictly increasing (contract).
[[nodiscard]] std::array<double, kBandCount> resample(std::span<const double> wavelengths_nm,
                                                      std::span<const double> values);

}  // namespace fadewright::colour
