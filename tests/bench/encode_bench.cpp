// From linear light to eight bits: the values of a whole picture by the vector loops and by the published
// formula, value by value, which verifies them; and the same for CIELAB.
#include "fadewright/colour/lab.h"
#include "fadewright/colour/profile.h"
#include "fadewright/colour/srgb.h"
#include "fadewright/kernels/srgb_dither.h"
#include "machine.h"
#include "seconds.h"

#include <benchmark/benchmark.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <vector>

using namespace fadewright;
using bench::seconds_of;
using benchmark::State;

namespace {

constexpr int kWidth = 1920, kHeight = 1080, kAtOnce = 32;

// A row from the darkest to the lightest, each channel in another direction.
std::array<std::vector<float>, 3> a_row() {
    std::array<std::vector<float>, 3> row;
    for (int x = 0; x < kWidth; ++x) {
        const float t = static_cast<float>(x) / (kWidth - 1);
        row[0].push_back(t);
        row[1].push_back(t * t);
        row[2].push_back(1 - t);
    }
    return row;
}

void to_bits(State& state) {
    const std::array<std::vector<float>, 3> light = a_row();
    std::vector<std::uint8_t> out(3 * kWidth);
    double fast_s = 0;
    for (auto _ : state) {
        const double took = seconds_of([&] {
            for (int y = 0; y < kHeight; ++y)
                for (int x = 0; x < kWidth; x += kAtOnce) {
                    std::array<std::array<float, kAtOnce>, 3> planes;
                    for (std::size_t c = 0; c < 3; ++c) {
                        std::copy_n(light[c].begin() + x, kAtOnce, planes[c].begin());
                        kernels::encode_srgb(planes[c]);
                    }
                    kernels::dither_to_bytes({planes[0], planes[1], planes[2]}, x, y,
                                             {&out[static_cast<std::size_t>(3 * x)], 3 * kAtOnce});
                }
            benchmark::DoNotOptimize(out.data());
        });
        state.SetIterationTime(took);
        fast_s += took;
    }
    fast_s /= static_cast<double>(state.iterations());
    std::vector<double> exact(3 * kWidth);
    const double plain_s = seconds_of([&] {
        for (int y = 0; y < kHeight; ++y) {
            for (std::size_t i = 0; i < exact.size(); ++i)
                exact[i] = 255 * colour::srgb_from_linear(static_cast<double>(light[i % 3][i / 3]));
            benchmark::DoNotOptimize(exact.data());
        }
    });
    for (std::size_t i = 0; i < exact.size(); ++i)
        if (std::abs(out[i] - exact[i]) > 1)
            return state.SkipWithError("more than one level from the formula");
    constexpr double kValues = 3.0 * kWidth * kHeight;
    state.counters["speedup"] = plain_s / fast_s;
    state.counters["ns_per_value"] = 1e9 * fast_s / kValues;
    // Read and written once: four bytes of light, one of the picture.
    state.counters["share_of_memory"] = 5 * kValues / fast_s / bench::memory_bytes_per_s();
}

void labs(State& state) {
    const std::array<std::vector<float>, 3> light = a_row();
    const colour::XYZ& white = colour::d65_white();
    const colour::OutputProfile srgb = colour::OutputProfile::srgb();
    kernels::LabPlanes found;
    double fast_s = 0;
    for (auto _ : state) {
        const double took = seconds_of([&] { found = srgb.linear_to_lab(light[0], light[1], light[2]); });
        state.SetIterationTime(took);
        fast_s += took;
    }
    fast_s /= static_cast<double>(state.iterations());
    std::vector<colour::Lab> plain(kWidth);
    const double plain_s = seconds_of([&] {
        for (std::size_t i = 0; i < plain.size(); ++i)
            plain[i] = colour::to_lab(
                colour::from_linear_srgb({light[0][i], light[1][i], light[2][i]}, white), white);
        benchmark::DoNotOptimize(plain.data());
    });
    for (std::size_t i = 0; i < plain.size(); ++i)
        if (std::abs(static_cast<double>(found.L[i]) - plain[i].L) > 1e-3 ||
            std::abs(static_cast<double>(found.a[i]) - plain[i].a) > 1e-3 ||
            std::abs(static_cast<double>(found.b[i]) - plain[i].b) > 1e-3)
            return state.SkipWithError("difference from the reference Labs too large");
    state.counters["speedup"] = plain_s / fast_s;
    state.counters["ns_per_colour"] = 1e9 * fast_s / kWidth;
}

}  // namespace

namespace fadewright::bench {

void add_encoding() {
    benchmark::RegisterBenchmark("light to 8 bits, 1920 x 1080, one core", to_bits)
        ->UseManualTime()
        ->Unit(benchmark::kMillisecond);
    benchmark::RegisterBenchmark("CIELAB of 1920 colours", labs)
        ->UseManualTime()
        ->Unit(benchmark::kMicrosecond);
}

}  // namespace fadewright::bench
