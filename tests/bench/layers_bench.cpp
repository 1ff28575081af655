// The colour of a stack: one coat over many points in all bands, by the fast loops and by the reference,
// which verifies them.
#include "fadewright/kernels/layer_stack.h"
#include "fadewright/kernels/layer_stack_fast.h"
#include "machine.h"

#include <benchmark/benchmark.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <vector>

using namespace fadewright::kernels;
using benchmark::State;

namespace {

constexpr std::size_t kBands = 36, kPoints = 1024;
constexpr double kSplat_um = 3, kAllowed = 1e-6;
// Floating-point operations of one film over one value, a division counted once.
constexpr double kFilmFlops = 36;

// An orange over grey: films from a first mist coat to two full coats.
struct CoatFixture {
    std::vector<double> K, S, film, ground;
    CoatFixture() : ground(kBands * kPoints, 0.4) {
        for (std::size_t band = 0; band < kBands; ++band) {
            K.push_back(0.3 / (1 + std::exp((static_cast<double>(band) - 18) / 2)));
            S.push_back(0.08 + 0.002 * static_cast<double>(band));
        }
        for (std::size_t i = 0; i < kPoints; ++i) film.push_back(0.05 * static_cast<double>(i + 1));
    }
};

std::vector<double> lay_reference(const CoatFixture& fixture, fast::Laydown drying) {
    std::vector<double> out = fixture.ground, of_band(kPoints);
    for (std::size_t band = 0; band < kBands; ++band) {
        for (std::size_t i = 0; i < kPoints; ++i) of_band[i] = out[i * kBands + band];
        const double K = fixture.K[band], S = fixture.S[band];
        if (drying == fast::Laydown::wet) lay_coat(fixture.film, K, S, of_band);
        if (drying == fast::Laydown::dots) lay_dots(fixture.film, kSplat_um, K, S, of_band);
        if (drying == fast::Laydown::automatic) lay_coalescing_dots(fixture.film, kSplat_um, K, S, of_band);
        for (std::size_t i = 0; i < kPoints; ++i) out[i * kBands + band] = of_band[i];
    }
    return out;
}

void lay(State& state, fast::Laydown drying) {
    const CoatFixture fixture;
    const auto begin = std::chrono::steady_clock::now();
    const std::vector<double> plain = lay_reference(fixture, drying);
    const std::chrono::duration<double> plain_s = std::chrono::steady_clock::now() - begin;
    const fast::Coat<float> coat(drying, kSplat_um, fixture.K, fixture.S);
    const std::vector<float> ground(fixture.ground.begin(), fixture.ground.end());
    std::vector<float> reflectance;
    double fast_s = 0;
    for (auto _ : state) {
        reflectance = ground;
        const auto start = std::chrono::steady_clock::now();
        coat.lay(fixture.film, reflectance);
        const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
        state.SetIterationTime(took.count());
        fast_s += took.count();
    }
    double max_error = 0;
    for (std::size_t i = 0; i < plain.size(); ++i)
        max_error = std::max(max_error, std::abs(plain[i] - static_cast<double>(reflectance[i])));
    if (max_error > kAllowed) return state.SkipWithError("difference from the reference loops too large");
    const double per_pass = fast_s / static_cast<double>(state.iterations());
    state.counters["speedup"] = plain_s.count() / per_pass;
    constexpr double kValues = kBands * kPoints;
    state.counters["ns_per_value"] = 1e9 * per_pass / kValues;
    if (drying == fast::Laydown::wet)
        state.counters["share_of_arithmetic"] =
            kFilmFlops * kValues / per_pass / fadewright::bench::vector_flops_per_s();
}

}  // namespace

namespace fadewright::bench {

void add_layers() {
    const auto add = [](const char* name, fast::Laydown drying) {
        benchmark::RegisterBenchmark(name, lay, drying)->UseManualTime()->Unit(benchmark::kMicrosecond);
    };
    add("colour of 1024 points: a film", fast::Laydown::wet);
    add("colour of 1024 points: auto", fast::Laydown::automatic);
    add("colour of 1024 points: dots", fast::Laydown::dots);
}

}  // namespace fadewright::bench
