#include "fadewright/formulation/mix_evaluator.h"

#include "fadewright/base/contract.h"
#include "fadewright/paint/mix.h"

namespace fadewright::formulation {

MixEvaluator::MixEvaluator(std::span<const paint::Paint* const> paints)
    : paints_(paints.begin(), paints.end()) {
    for (const paint::Paint* paint : paints_) {
        FW_EXPECTS(paint != nullptr && paint->solids.value > 0);
        double sum = 0;
        for (std::size_t band = 0; band < colour::kBandCount; ++band) sum += paint->K[band] + paint->S[band];
        tinting_strength_.push_back(sum / static_cast<double>(colour::kBandCount));
        const std::optional<double> v = paint::crowding_of(*paint);
        if (v) FW_EXPECTS(*v >= 0 && *v < paint::kMaxCrowding);
        crowding_pigment_.push_back(v ? paint->pigment.value : 0);
        v_.push_back(v.value_or(0));
        own_efficiency_.push_back(v ? paint::crowding_efficiency(*v, paint->pigment.value) : 1);
    }
}

MixOptics MixEvaluator::optics(const MixShares& mix_shares) const noexcept {
    MixOptics mix;
    for (std::size_t i = 0; i < mix_shares.count; ++i)
        mix.p += mix_shares.share[i] * crowding_pigment_[mix_shares.paint_index[i]];
    for (std::size_t i = 0; i < mix_shares.count; ++i) {
        const std::size_t index = mix_shares.paint_index[i];
        const paint::Paint& paint = *paints_[index];
        const double c = mix_shares.share[i];
        const bool crowds = v_[index] > 0;
        mix.scattering_gain[i] =
            crowds ? paint::crowding_efficiency(v_[index], mix.p) / own_efficiency_[index] : 1;
        const double scattering = c * mix.scattering_gain[i];
        for (std::size_t band = 0; band < colour::kBandCount; ++band) {
            mix.K[band] += c * paint.K[band];
            mix.S[band] += scattering * paint.S[band];
        }
        if (!crowds) continue;
        const double slope = c * paint::crowding_slope(v_[index], mix.p) / own_efficiency_[index];
        for (std::size_t band = 0; band < colour::kBandCount; ++band)
            mix.dS_dp[band] += slope * paint.S[band];
    }
    return mix;
}

}  // namespace fadewright::formulation
