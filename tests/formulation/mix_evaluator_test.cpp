#include "fadewright/formulation/mix_evaluator.h"

#include "fadewright/paint/mix.h"
#include "some_paints.h"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace fadewright;
using namespace fadewright::formulation;

namespace {

constexpr std::uint64_t kSeed = 41;

// Two whites, one of them a colour that crowds by its own figure, and plain colours.
std::vector<paint::Paint> some_bottles() {
    const auto optics = test::random_mixes(kSeed, 8);
    std::vector<paint::Paint> paints;
    for (std::size_t i = 0; i < optics.size(); ++i) {
        paint::Paint paint = test::make_paint(optics[i].K, optics[i].S);
        paint.solids = Share{0.2 + 0.05 * static_cast<double>(i)};
        paint.pigment = Share{0.04 * static_cast<double>(i + 1)};
        if (i == 2) paint.role = paint::Role::white;
        if (i == 5) paint.crowding = 0.9;
        paints.push_back(paint);
    }
    return paints;
}

MixShares random_trial(std::uint64_t index, std::size_t paint_count) {
    MixShares mix_shares;
    mix_shares.count = 1 + static_cast<std::size_t>(uniform01(kSeed, 100, index) * kMaxPaintsInMix);
    double sum = 0;
    for (std::size_t i = 0; i < mix_shares.count; ++i) {
        mix_shares.paint_index[i] =
            (i + static_cast<std::size_t>(uniform01(kSeed, 101, index) * 8)) % paint_count;
        sum += mix_shares.share[i] = std::pow(10.0, -3 * uniform01(kSeed, 102 + i, index));
    }
    for (std::size_t i = 0; i < mix_shares.count; ++i) mix_shares.share[i] /= sum;
    return mix_shares;
}

std::vector<paint::Part> parts_of(const MixShares& mix_shares, const MixEvaluator& evaluator) {
    std::vector<paint::Part> parts;
    for (std::size_t i = 0; i < mix_shares.count; ++i) {
        const paint::Paint& paint = evaluator.paint(mix_shares.paint_index[i]);
        parts.push_back({&paint, mix_shares.share[i] / paint.solids.value});
    }
    return parts;
}

}  // namespace

TEST_CASE("a trial mix has the K and S of paint::mixed", "[film][match]") {
    const auto paints = some_bottles();
    const MixEvaluator evaluator(test::pointers(paints));
    for (std::uint64_t index = 0; index < 300; ++index) {
        const MixShares mix_shares = random_trial(index, paints.size());
        const MixOptics fast = evaluator.optics(mix_shares);
        const paint::MixedPaint reference = paint::mix_paints(parts_of(mix_shares, evaluator));
        CAPTURE(index);
        for (std::size_t band = 0; band < colour::kBandCount; ++band) {
            REQUIRE_THAT(fast.K[band],
                         Catch::Matchers::WithinAbs(reference.K[band], 1e-12 * reference.K[band] + 1e-300));
            REQUIRE_THAT(fast.S[band],
                         Catch::Matchers::WithinAbs(reference.S[band], 1e-12 * reference.S[band] + 1e-300));
        }
    }
}

// The formulas of mix_evaluator.h against a small step of one paint's weight.
TEST_CASE("derivatives of K and S agree with finite differences", "[film][match]") {
    const auto paints = some_bottles();
    const MixEvaluator evaluator(test::pointers(paints));
    constexpr double h = 1e-6;
    for (std::uint64_t index = 0; index < 60; ++index) {
        const MixShares mix_shares = random_trial(index, paints.size());
        const MixOptics base = evaluator.optics(mix_shares);
        for (std::size_t j = 0; j < mix_shares.count; ++j) {
            const auto stepped = [&](double step) {
                MixShares moved = mix_shares;
                moved.share[j] *= std::exp(step);
                double sum = 0;
                for (std::size_t i = 0; i < moved.count; ++i) sum += moved.share[i];
                for (std::size_t i = 0; i < moved.count; ++i) moved.share[i] /= sum;
                return evaluator.optics(moved);
            };
            const MixOptics more = stepped(h), less = stepped(-h);
            const paint::Paint& paint = evaluator.paint(mix_shares.paint_index[j]);
            const double c = mix_shares.share[j];
            CAPTURE(index, j);
            for (std::size_t band = 0; band < colour::kBandCount; band += 5) {
                const double K = c * (paint.K[band] - base.K[band]);
                const double S =
                    c * (base.scattering_gain[j] * paint.S[band] - base.S[band]) +
                    c * (evaluator.crowding_pigment(mix_shares.paint_index[j]) - base.p) * base.dS_dp[band];
                // a central difference of h = 1e-6 keeps about nine digits of K and S
                CHECK_THAT((more.K[band] - less.K[band]) / (2 * h),
                           Catch::Matchers::WithinAbs(K, 1e-8 * base.K[band] + 1e-12));
                CHECK_THAT((more.S[band] - less.S[band]) / (2 * h),
                           Catch::Matchers::WithinAbs(S, 1e-8 * base.S[band] + 1e-12));
            }
        }
    }
}
