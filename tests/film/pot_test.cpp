#include "fadewright/film/pot.h"

#include "fadewright/paint/mix.h"
#include "some_paints.h"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace fadewright;
using namespace fadewright::film;

namespace {

constexpr std::uint64_t kSeed = 41;

// Two whites, one of them a colour that crowds by its own figure, and plain colours.
std::vector<paint::Paint> some_bottles() {
    const auto optics = test::random_mixes(kSeed, 8);
    std::vector<paint::Paint> paints;
    for (std::size_t i = 0; i < optics.size(); ++i) {
        paint::Paint paint = test::a_paint(optics[i].K, optics[i].S);
        paint.solids = Share{0.2 + 0.05 * static_cast<double>(i)};
        paint.pigment = Share{0.04 * static_cast<double>(i + 1)};
        if (i == 2) paint.role = paint::Role::white;
        if (i == 5) paint.crowding = 0.9;
        paints.push_back(paint);
    }
    return paints;
}

std::vector<const paint::Paint*> pointers(const std::vector<paint::Paint>& paints) {
    std::vector<const paint::Paint*> all;
    for (const paint::Paint& paint : paints) all.push_back(&paint);
    return all;
}

Trial random_trial(std::uint64_t index, std::size_t of) {
    Trial trial;
    trial.count = 1 + static_cast<std::size_t>(random_unit(kSeed, 100, index) * kMostInPot);
    double sum = 0;
    for (std::size_t i = 0; i < trial.count; ++i) {
        trial.who[i] = (i + static_cast<std::size_t>(random_unit(kSeed, 101, index) * 8)) % of;
        sum += trial.share[i] = std::pow(10.0, -3 * random_unit(kSeed, 102 + i, index));
    }
    for (std::size_t i = 0; i < trial.count; ++i) trial.share[i] /= sum;
    return trial;
}

std::vector<paint::Part> parts_of(const Trial& trial, const Pot& pot) {
    std::vector<paint::Part> parts;
    for (std::size_t i = 0; i < trial.count; ++i) {
        const paint::Paint& paint = pot.paint(trial.who[i]);
        parts.push_back({&paint, trial.share[i] / paint.solids.value});
    }
    return parts;
}

}  // namespace

TEST_CASE("a trial in the pot has the K and S of the same paints mixed", "[film][match]") {
    const auto paints = some_bottles();
    const Pot pot(pointers(paints));
    for (std::uint64_t index = 0; index < 300; ++index) {
        const Trial trial = random_trial(index, paints.size());
        const PotOptics fast = pot.optics(trial);
        const paint::MixedPaint plain = paint::mixed(parts_of(trial, pot));
        CAPTURE(index);
        for (std::size_t band = 0; band < colour::kBandCount; ++band) {
            REQUIRE_THAT(fast.K[band],
                         Catch::Matchers::WithinAbs(plain.K[band], 1e-12 * plain.K[band] + 1e-300));
            REQUIRE_THAT(fast.S[band],
                         Catch::Matchers::WithinAbs(plain.S[band], 1e-12 * plain.S[band] + 1e-300));
        }
    }
}

// The formulas of pot.h against a small step of one paint's weight.
TEST_CASE("K and S follow a little more of one paint as the pot says", "[film][match]") {
    const auto paints = some_bottles();
    const Pot pot(pointers(paints));
    constexpr double h = 1e-6;
    for (std::uint64_t index = 0; index < 60; ++index) {
        const Trial trial = random_trial(index, paints.size());
        const PotOptics here = pot.optics(trial);
        for (std::size_t j = 0; j < trial.count; ++j) {
            const auto stepped = [&](double step) {
                Trial moved = trial;
                moved.share[j] *= std::exp(step);
                double sum = 0;
                for (std::size_t i = 0; i < moved.count; ++i) sum += moved.share[i];
                for (std::size_t i = 0; i < moved.count; ++i) moved.share[i] /= sum;
                return pot.optics(moved);
            };
            const PotOptics more = stepped(h), less = stepped(-h);
            const paint::Paint& paint = pot.paint(trial.who[j]);
            const double c = trial.share[j];
            CAPTURE(index, j);
            for (std::size_t band = 0; band < colour::kBandCount; band += 5) {
                const double K = c * (paint.K[band] - here.K[band]);
                const double S = c * (here.gain[j] * paint.S[band] - here.S[band]) +
                                 c * (pot.crowded(trial.who[j]) - here.p) * here.dS_dp[band];
                // a central difference of h = 1e-6 keeps about nine digits of K and S
                CHECK_THAT((more.K[band] - less.K[band]) / (2 * h),
                           Catch::Matchers::WithinAbs(K, 1e-8 * here.K[band] + 1e-12));
                CHECK_THAT((more.S[band] - less.S[band]) / (2 * h),
                           Catch::Matchers::WithinAbs(S, 1e-8 * here.S[band] + 1e-12));
            }
        }
    }
}
