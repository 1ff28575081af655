#include "machine.h"
#include "seconds.h"

#include <benchmark/benchmark.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <functional>
#include <vector>

using benchmark::State;

#if defined(__x86_64__)
#define BENCH_WIDE __attribute__((target_clones("avx2", "default")))
#else
#define BENCH_WIDE
#endif

namespace fadewright::bench {
namespace {

double best_seconds(const std::function<void()>& work) {
    double best = 1e9;
    for (int i = 0; i < 7; ++i) best = std::min(best, seconds_of(work));
    return best;
}

// Enough independent sums that none waits for the one before it.
constexpr std::size_t kSums = 96;
constexpr int kRounds = 200000;

BENCH_WIDE void multiply_and_add(std::array<float, kSums>& sums) {
    std::array<float, kSums> at = sums;
    for (int round = 0; round < kRounds; ++round)
        for (std::size_t i = 0; i < kSums; ++i) at[i] = at[i] * 0.999f + 0.001f;
    sums = at;
}

// The cost of an exponential by the standard library, one number after the other.
void exponentials(State& state) {
    std::vector<double> values(1024);
    for (std::size_t i = 0; i < values.size(); ++i) values[i] = -1e-3 * static_cast<double>(i);
    double sum = 0;
    for (auto _ : state) {
        for (const double v : values) sum += std::exp(v);
        benchmark::DoNotOptimize(sum);
    }
    state.counters["exps"] =
        benchmark::Counter(1024 * static_cast<double>(state.iterations()), benchmark::Counter::kIsRate);
}

void memory(State& state) {
    for (auto _ : state) benchmark::DoNotOptimize(memory_bytes_per_s());
    state.counters["GB_per_s"] = memory_bytes_per_s() / 1e9;
}

void arithmetic(State& state) {
    for (auto _ : state) benchmark::DoNotOptimize(vector_flops_per_s());
    state.counters["Gflop_per_s"] = vector_flops_per_s() / 1e9;
}

}  // namespace

double memory_bytes_per_s() {
    static const double found = [] {
        std::vector<double> from(std::size_t{16} << 20, 1.0), to(from.size());
        const double s = best_seconds([&] {
            for (std::size_t i = 0; i < from.size(); ++i) to[i] = 2 * from[i];
            benchmark::DoNotOptimize(to.data());
            benchmark::ClobberMemory();
        });
        return 2.0 * static_cast<double>(from.size() * sizeof(double)) / s;
    }();
    return found;
}

double vector_flops_per_s() {
    static const double found = [] {
        std::array<float, kSums> sums{};
        const double s = best_seconds([&] {
            multiply_and_add(sums);
            benchmark::DoNotOptimize(sums.data());
        });
        return 2.0 * kRounds * static_cast<double>(kSums) / s;
    }();
    return found;
}

void add_machine() {
    benchmark::RegisterBenchmark("machine: memory, read and written, one core", memory)->Iterations(1);
    benchmark::RegisterBenchmark("machine: multiply and add, one core", arithmetic)->Iterations(1);
    benchmark::RegisterBenchmark("machine: exp of the library, one core", exponentials)
        ->Unit(benchmark::kMillisecond);
}

}  // namespace fadewright::bench
