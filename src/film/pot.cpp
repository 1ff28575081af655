#include "fadewright/film/pot.h"

#include "fadewright/base/contract.h"
#include "fadewright/paint/mix.h"

namespace fadewright::film {

Pot::Pot(std::span<const paint::Paint* const> paints) : paints_(paints.begin(), paints.end()) {
    for (const paint::Paint* paint : paints_) {
        FW_EXPECTS(paint != nullptr && paint->solids.value > 0);
        double sum = 0;
        for (std::size_t band = 0; band < colour::kBandCount; ++band) sum += paint->K[band] + paint->S[band];
        strength_.push_back(sum / static_cast<double>(colour::kBandCount));
        const std::optional<double> v = paint::crowding_of(*paint);
        if (v) FW_EXPECTS(*v >= 0 && *v < paint::kMostCrowding);
        crowded_.push_back(v ? paint->pigment.value : 0);
        v_.push_back(v.value_or(0));
        own_efficiency_.push_back(v ? paint::crowding_efficiency(*v, paint->pigment.value) : 1);
    }
}

PotOptics Pot::optics(const Trial& trial) const noexcept {
    PotOptics mix;
    for (std::size_t i = 0; i < trial.count; ++i) mix.p += trial.share[i] * crowded_[trial.who[i]];
    for (std::size_t i = 0; i < trial.count; ++i) {
        const std::size_t which = trial.who[i];
        const paint::Paint& paint = *paints_[which];
        const double c = trial.share[i];
        const bool crowds = v_[which] > 0;
        mix.gain[i] = crowds ? paint::crowding_efficiency(v_[which], mix.p) / own_efficiency_[which] : 1;
        const double scattering = c * mix.gain[i];
        for (std::size_t band = 0; band < colour::kBandCount; ++band) {
            mix.K[band] += c * paint.K[band];
            mix.S[band] += scattering * paint.S[band];
        }
        if (!crowds) continue;
        const double slope = c * paint::crowding_slope(v_[which], mix.p) / own_efficiency_[which];
        for (std::size_t band = 0; band < colour::kBandCount; ++band)
            mix.dS_dp[band] += slope * paint.S[band];
    }
    return mix;
}

}  // namespace fadewright::film
