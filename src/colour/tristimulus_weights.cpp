// Weights by interpolating the reflectance. Source: [astmE2022].

#include "cie_tables.h"
#include "fadewright/base/contract.h"
#include "fadewright/colour/illuminant.h"
#include "lagrange.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace fadewright::colour {
namespace {

// Grid of the reflectance during the calculation: all bands of the visible range, combined into ours at the
// end.
constexpr double kGridFirst_nm = 360, kGridLast_nm = 830, kGridStep_nm = 10;
constexpr std::size_t kGridCount = 48;

ColourMatchingFunctions matching_table(std::string_view file) {
    auto columns = cie_table_columns(file);
    return {std::move(columns[0]), std::move(columns[1]), std::move(columns[2]), std::move(columns[3])};
}

double interpolate_linear(const std::vector<double>& wavelengths, const std::vector<double>& values,
                          double nm) {
    if (nm < wavelengths.front() || nm > wavelengths.back()) return 0;
    const auto above = std::lower_bound(wavelengths.begin() + 1, wavelengths.end() - 1, nm);
    const auto i = static_cast<std::size_t>(above - wavelengths.begin());
    const double t = (nm - wavelengths[i - 1]) / (wavelengths[i] - wavelengths[i - 1]);
    return values[i - 1] + t * (values[i] - values[i - 1]);
}

// Interpolation weights of the grid's reflectances at nm: cubic inside, quadratic in the end intervals.
struct LagrangeShares {
    std::size_t start = 0;
    std::array<double, 4> share{};
    std::size_t count = 0;
};

LagrangeShares grid_shares(double nm) {
    const double position = (nm - kGridFirst_nm) / kGridStep_nm;
    const auto interval =
        static_cast<std::size_t>(std::clamp(std::floor(position), 0.0, double(kGridCount - 2)));
    LagrangeShares shares;
    shares.count = interval == 0 || interval == kGridCount - 2 ? 3 : 4;
    shares.start = interval == 0 ? 0 : interval == kGridCount - 2 ? kGridCount - 3 : interval - 1;
    for (std::size_t i = 0; i < shares.count; ++i) {
        shares.share[i] = 1;
        for (std::size_t j = 0; j < shares.count; ++j)
            if (j != i)
                shares.share[i] *= (position - static_cast<double>(shares.start + j)) /
                                   (static_cast<double>(i) - static_cast<double>(j));
    }
    return shares;
}

using GridWeights = std::array<std::array<double, 3>, kGridCount>;

void add_wavelength(double nm, double power, const ColourMatchingFunctions& observer_cmf, GridWeights& grid) {
    const std::array<double, 3> cmf{lagrange(observer_cmf.wavelengths_nm, observer_cmf.x, nm, 6),
                                    lagrange(observer_cmf.wavelengths_nm, observer_cmf.y, nm, 6),
                                    lagrange(observer_cmf.wavelengths_nm, observer_cmf.z, nm, 6)};
    const LagrangeShares shares = grid_shares(nm);
    for (std::size_t i = 0; i < shares.count; ++i)
        for (std::size_t c = 0; c < 3; ++c) grid[shares.start + i][c] += shares.share[i] * power * cmf[c];
}

TristimulusWeights fold_to_bands(const GridWeights& grid) {
    TristimulusWeights out;
    for (std::size_t g = 0; g < kGridCount; ++g) {
        const double band =
            (kGridFirst_nm + kGridStep_nm * static_cast<double>(g) - kFirstBand_nm) / kBandStep_nm;
        const auto b = static_cast<std::size_t>(std::clamp(band, 0.0, double(kBandCount - 1)));
        for (std::size_t c = 0; c < 3; ++c) out.w[b][c] += grid[g][c];
    }
    double Y = 0;
    for (const auto& w : out.w) Y += w[1];
    FW_EXPECTS(Y > 0);
    std::array<double, 3> white{};
    for (auto& w : out.w)
        for (std::size_t c = 0; c < 3; ++c) {
            w[c] *= 100 / Y;
            white[c] += w[c];
        }
    out.white = {white[0], white[1], white[2]};
    return out;
}

}  // namespace

const ColourMatchingFunctions& colour_matching_functions(Observer observer) {
    static const ColourMatchingFunctions two_degree_table = matching_table("observer_2.csv");
    static const ColourMatchingFunctions ten_degree_table = matching_table("observer_10.csv");
    return observer == Observer::two_degree ? two_degree_table : ten_degree_table;
}

TristimulusWeights tristimulus_weights(const Illuminant& light, Observer observer) {
    const ColourMatchingFunctions& observer_cmf = colour_matching_functions(observer);
    GridWeights grid{};
    if (light.narrow_band || light.wavelengths_nm.size() < 2) {
        for (std::size_t i = 0; i < light.wavelengths_nm.size(); ++i) {
            const double nm = light.wavelengths_nm[i];
            if (nm >= kGridFirst_nm && nm <= kGridLast_nm)
                add_wavelength(nm, light.power[i], observer_cmf, grid);
        }
    } else {
        for (double nm = kGridFirst_nm; nm <= kGridLast_nm; nm += 1)
            add_wavelength(nm, interpolate_linear(light.wavelengths_nm, light.power, nm), observer_cmf, grid);
    }
    return fold_to_bands(grid);
}

}  // namespace fadewright::colour
