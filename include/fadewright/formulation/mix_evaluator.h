// Mix evaluator: fast optics of trial mixes of a few paints out of many, for recipe searches.
//
// MixEvaluator::optics() gives what paint::mixed() gives for the same dry shares, without its bookkeeping,
// and with derivatives. With c_i the shares of the dry film, their sum 1, and p, e as in paint/mix.h:
//
//     K = sum c_i K_i,   S = sum c_i g_i S_i,   g_i = e(p) / e(p_i)
//     c_j dK/dc_j  at constant sum  = c_j (K_j - K)
//     c_j dS/dc_j                   = c_j (g_j S_j - S) + c_j (p_j - p) dS/dp
//
// Source: [duncan1940].
// Holds for  paints that leave dry film (contract); at most kMaxPaintsInMix of them in one trial
// Accuracy   within 1e-12 relative of paint::mixed
// Checks     tests/formulation/mix_evaluator_test.cpp
#pragma once

#include "fadewright/colour/spectrum.h"
#include "fadewright/paint/paint.h"

#include <array>
#include <cstddef>
#include <span>
#include <vector>

namespace fadewright::formulation {

inline constexpr std::size_t kMaxPaintsInMix = 6;

// A trial mix: paints by their index in the evaluator's list, and their shares of the dry film.
struct MixShares {
    std::size_t count = 0;
    std::array<std::size_t, kMaxPaintsInMix> paint_index{};
    std::array<double, kMaxPaintsInMix> share{};
};

struct MixOptics {
    colour::Absorption K;  // per micrometre of dry film
    colour::Scattering S;
    colour::Scattering dS_dp;                               // per share of crowding pigment in the film
    std::array<double, kMaxPaintsInMix> scattering_gain{};  // g of each paint of the trial
    double p = 0;
};

class MixEvaluator {
public:
    explicit MixEvaluator(std::span<const paint::Paint* const> paints);  // paints must outlive it

    [[nodiscard]] std::size_t size() const noexcept { return paints_.size(); }
    [[nodiscard]] const paint::Paint& paint(std::size_t index) const noexcept { return *paints_[index]; }

    [[nodiscard]] MixOptics optics(const MixShares& mix_shares) const noexcept;

    // Effect of a small amount of it on a mix: the mean of K + S over the bands.
    [[nodiscard]] double tinting_strength(std::size_t index) const noexcept {
        return tinting_strength_[index];
    }

    // Share of crowding pigment in its own film; 0 for a paint that does not crowd.
    [[nodiscard]] double crowding_pigment(std::size_t index) const noexcept {
        return crowding_pigment_[index];
    }

private:
    std::vector<const paint::Paint*> paints_;
    std::vector<double> tinting_strength_, crowding_pigment_;
    std::vector<double> v_, own_efficiency_;  // of the crowding law; 0 and 1 for a paint that does not crowd
};

}  // namespace fadewright::formulation
