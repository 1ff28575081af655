#include "fadewright/colour/spectrum.h"

#include "fadewright/base/contract.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace fadewright::colour {
namespace {

// Slopes at the points that keep the cubic monotone between them.
// Source: [fritsch1984] (weighted harmonic mean).
std::vector<double> monotone_slopes(std::span<const double> x, std::span<const double> y) {
    const std::size_t n = x.size();
    std::vector<double> secant(n - 1), slope(n, 0.0);
    for (std::size_t i = 0; i + 1 < n; ++i) secant[i] = (y[i + 1] - y[i]) / (x[i + 1] - x[i]);
    for (std::size_t i = 1; i + 1 < n; ++i) {
        if (secant[i - 1] * secant[i] <= 0) continue;
        const double before = x[i] - x[i - 1], after = x[i + 1] - x[i];
        const double w1 = 2 * after + before, w2 = after + 2 * before;
        slope[i] = (w1 + w2) / (w1 / secant[i - 1] + w2 / secant[i]);
    }
    slope[0] = secant[0];
    slope[n - 1] = secant[n - 2];
    return slope;
}

}  // namespace

std::array<double, kBandCount> resample(std::span<const double> wavelengths_nm,
                                        std::span<const double> values) {
    FW_EXPECTS(!values.empty() && wavelengths_nm.size() == values.size());
    std::array<double, kBandCount> out{};
    if (values.size() == 1) {
        out.fill(values[0]);
        return out;
    }
    const std::vector<double> slopes = monotone_slopes(wavelengths_nm, values);
    for (std::size_t band = 0; band < kBandCount; ++band) {
        const double nm = std::clamp(band_nm(band), wavelengths_nm.front(), wavelengths_nm.back());
        const auto above = std::lower_bound(wavelengths_nm.begin() + 1, wavelengths_nm.end() - 1, nm);
        const auto i = static_cast<std::size_t>(above - wavelengths_nm.begin());
        const double h = wavelengths_nm[i] - wavelengths_nm[i - 1];
        FW_EXPECTS(h > 0);
        const double t = (nm - wavelengths_nm[i - 1]) / h;
        // Cubic Hermite interpolation.
        const double t2 = t * t, t3 = t2 * t;
        out[band] = (2 * t3 - 3 * t2 + 1) * values[i - 1] + (t3 - 2 * t2 + t) * h * slopes[i - 1] +
                    (3 * t2 - 2 * t3) * values[i] + (t3 - t2) * h * slopes[i];
    }
    return out;
}

}  // namespace fadewright::colour
