#include "fadewright/film/flake_materials.h"

#include "embedded.h"
#include "fadewright/base/contract.h"
#include "fadewright/base/strings.h"

#include <algorithm>
#include <cmath>
#include <complex>
#include <cstddef>
#include <vector>

namespace fadewright::film {
namespace {

using colour::band_nm;
using colour::kBandCount;

constexpr double kMica = 1.58;

enum Column : std::size_t { kNm, kAnatase, kAluminium, kAluminiumK, kHematite, kHematiteK, kColumns };

// One row per band.
std::vector<std::vector<double>> read_table() {
    const auto files = embedded_materials();
    FW_EXPECTS(files.size() == 1);
    std::vector<std::vector<double>> table = number_table(files.front().text);
    FW_ENSURES(table.size() == kBandCount && table.front().size() == kColumns);
    for (std::size_t band = 0; band < kBandCount; ++band) FW_ENSURES(table[band][kNm] == band_nm(band));
    return table;
}

double alumina(double nm) noexcept {
    const double L2 = nm * nm * 1e-6;
    const auto term = [L2](double strength, double at_um) { return strength * L2 / (L2 - at_um * at_um); };
    return std::sqrt(1 + term(1.4313493, 0.0726631) + term(0.65054713, 0.1193242) +
                     term(5.3414021, 18.028251));
}

struct AllBands {
    IndexBands anatase, rutile, mica, alumina, hematite, aluminium;
};

AllBands all_bands() {
    const auto table = read_table();
    AllBands all;
    for (std::size_t band = 0; band < kBandCount; ++band) {
        const auto& row = table[band];
        const RutileIndex rutile = rutile_index(Nanometres{band_nm(band)});
        all.anatase[band] = {row[kAnatase], 0};
        all.rutile[band] = {(2 * rutile.ordinary + rutile.extraordinary) / 3, 0};
        all.mica[band] = {kMica, 0};
        all.alumina[band] = {alumina(band_nm(band)), 0};
        all.hematite[band] = {row[kHematite], row[kHematiteK]};
        all.aluminium[band] = {row[kAluminium], row[kAluminiumK]};
    }
    return all;
}

}  // namespace

const IndexBands& index_of(FlakeMaterial material) {
    static const AllBands all = all_bands();
    switch (material) {
        case FlakeMaterial::anatase:
            return all.anatase;
        case FlakeMaterial::rutile:
            return all.rutile;
        case FlakeMaterial::mica:
            return all.mica;
        case FlakeMaterial::alumina:
            return all.alumina;
        case FlakeMaterial::hematite:
            return all.hematite;
        case FlakeMaterial::aluminium:
            break;
    }
    return all.aluminium;
}

GramsPerMillilitre density_of(FlakeMaterial material) noexcept {
    switch (material) {
        case FlakeMaterial::anatase:
            return GramsPerMillilitre{3.9};
        case FlakeMaterial::rutile:
            return GramsPerMillilitre{4.23};
        case FlakeMaterial::mica:
            return GramsPerMillilitre{2.82};
        case FlakeMaterial::alumina:
            return GramsPerMillilitre{3.98};
        case FlakeMaterial::hematite:
            return GramsPerMillilitre{5.25};
        case FlakeMaterial::aluminium:
            break;
    }
    return GramsPerMillilitre{2.7};
}

RutileIndex rutile_index(Nanometres wavelength) noexcept {
    const double L2 = wavelength.value * wavelength.value * 1e-6;
    return {std::sqrt(5.913 + 0.2441 / (L2 - 0.0803)), std::sqrt(7.197 + 0.3322 / (L2 - 0.0843))};
}

// The mean of two media in closed form: 4 e = b + sqrt(b^2 + 8 e_o e_p).
OpticalIndex porous_index(OpticalIndex solid, double pore_index, Share porosity) {
    FW_EXPECTS(porosity.value >= 0 && porosity.value <= 1);
    if (porosity.value == 0) return solid;
    const std::complex<double> n{solid.n, -solid.k};
    const std::complex<double> oxide = n * n;
    const double pore = pore_index * pore_index;
    const double f = 1 - porosity.value;
    const std::complex<double> b = (3 * f - 1) * oxide + (3 * porosity.value - 1) * pore;
    const std::complex<double> mean = (b + std::sqrt(b * b + 8.0 * oxide * pore)) / 4.0;
    const std::complex<double> index = std::sqrt(mean);
    return {index.real(), std::max(0.0, -index.imag())};
}

}  // namespace fadewright::film
