#include "fadewright/paint/modelled.h"

#include "fadewright/base/contract.h"
#include "fadewright/colour/bands.h"

#include <cmath>

namespace fadewright::paint {
namespace {

// Bands of absorption and of scattering have the same members and the same shape.
template <class Band>
double height(const Band& band, double w_nm) {
    FW_EXPECTS(band.width.value > 0);
    FW_EXPECTS(band.lean > -1 && band.lean < 1);
    const double off = w_nm - band.centre.value;
    const double side = off < 0 ? 1 - band.lean : 1 + band.lean;
    const double x = 2 * off / (band.width.value * side);
    return band.strength.value * std::exp2(-x * x);
}

double height(const AbsorptionEdge& edge, double w_nm) {
    FW_EXPECTS(edge.softness.value > 0);
    return edge.strength.value / (1 + std::exp((w_nm - edge.at.value) / edge.softness.value));
}

double sloping(PerMicrometre strength, double slope, double w_nm) {
    return strength.value * std::pow(kMiddleWavelength.value / w_nm, slope);
}

}  // namespace

colour::Absorption modelled_absorption(const AbsorptionModel& model) {
    colour::Absorption K;
    for (std::size_t band = 0; band < colour::kBandCount; ++band) {
        const double w_nm = colour::band_nm(band);
        K[band] = sloping(model.floor, model.floor_slope, w_nm);
        for (const auto& b : model.bands) K[band] += height(b, w_nm);
        for (const auto& e : model.edges) K[band] += height(e, w_nm);
    }
    return K;
}

colour::Scattering modelled_scattering(const ScatteringModel& model) {
    colour::Scattering S;
    for (std::size_t band = 0; band < colour::kBandCount; ++band) {
        const double w_nm = colour::band_nm(band);
        S[band] = sloping(model.strength, model.slope, w_nm);
        for (const auto& b : model.bands) S[band] += height(b, w_nm);
    }
    return S;
}

}  // namespace fadewright::paint
