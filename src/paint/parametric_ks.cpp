#include "fadewright/paint/parametric_ks.h"

#include "fadewright/base/contract.h"
#include "fadewright/colour/spectrum.h"

#include <cmath>

namespace fadewright::paint {
namespace {

// Bands of absorption and of scattering have the same members and the same shape.
template <class Band>
double value_at(const Band& band, double w_nm) {
    FW_EXPECTS(band.width.value > 0);
    FW_EXPECTS(band.skew > -1 && band.skew < 1);
    const double offset_nm = w_nm - band.centre.value;
    const double side = offset_nm < 0 ? 1 - band.skew : 1 + band.skew;
    const double x = 2 * offset_nm / (band.width.value * side);
    return band.strength.value * std::exp2(-x * x);
}

double value_at(const AbsorptionEdge& edge, double w_nm) {
    FW_EXPECTS(edge.softness.value > 0);
    return edge.strength.value / (1 + std::exp((w_nm - edge.at.value) / edge.softness.value));
}

double power_law(PerMicrometre strength, double slope, double w_nm) {
    return strength.value * std::pow(kReferenceWavelength.value / w_nm, slope);
}

}  // namespace

colour::Absorption parametric_absorption(const AbsorptionModel& model) {
    colour::Absorption K;
    for (std::size_t band = 0; band < colour::kBandCount; ++band) {
        const double w_nm = colour::band_nm(band);
        K[band] = power_law(model.baseline, model.baseline_slope, w_nm);
        for (const auto& b : model.bands) K[band] += value_at(b, w_nm);
        for (const auto& e : model.edges) K[band] += value_at(e, w_nm);
    }
    return K;
}

colour::Scattering parametric_scattering(const ScatteringModel& model) {
    colour::Scattering S;
    for (std::size_t band = 0; band < colour::kBandCount; ++band) {
        const double w_nm = colour::band_nm(band);
        S[band] = power_law(model.strength, model.slope, w_nm);
        for (const auto& b : model.bands) S[band] += value_at(b, w_nm);
    }
    return S;
}

}  // namespace fadewright::paint
