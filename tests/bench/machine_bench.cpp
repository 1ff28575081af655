// What this machine can do, measured in the same run: the bounds that the other figures stand against.
#include <benchmark/benchmark.h>

#include <cmath>
#include <cstddef>
#include <vector>

using benchmark::State;

namespace {

// Far larger than any cache.
void memory_bandwidth(State& state) {
    std::vector<double> from(std::size_t{16} << 20, 1.0), to(from.size());
    for (auto _ : state) {
        for (std::size_t i = 0; i < from.size(); ++i) to[i] = 2 * from[i];
        benchmark::DoNotOptimize(to.data());
        benchmark::ClobberMemory();
    }
    const double bytes = 2.0 * static_cast<double>(from.size() * sizeof(double));
    state.counters["bytes"] = benchmark::Counter(bytes * static_cast<double>(state.iterations()),
                                                 benchmark::Counter::kIsRate, benchmark::Counter::kIs1024);
}

void vector_arithmetic(State& state) {
    std::vector<double> values(1024, 1.0);
    constexpr int kRounds = 2000;
    for (auto _ : state) {
        for (int round = 0; round < kRounds; ++round)
            for (double& v : values) v = v * 0.999 + 0.001;
        benchmark::DoNotOptimize(values.data());
    }
    state.counters["flops"] = benchmark::Counter(
        2.0 * kRounds * 1024 * static_cast<double>(state.iterations()), benchmark::Counter::kIsRate);
}

// What a coat over one place costs in one band at the least: an exponential, a root, two divisions.
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

}  // namespace

namespace fadewright::bench {

void add_machine() {
    benchmark::RegisterBenchmark("machine: memory, read and written", memory_bandwidth)
        ->Unit(benchmark::kMillisecond);
    benchmark::RegisterBenchmark("machine: multiply and add, one core", vector_arithmetic)
        ->Unit(benchmark::kMillisecond);
    benchmark::RegisterBenchmark("machine: exp, one core", exponentials)->Unit(benchmark::kMillisecond);
}

}  // namespace fadewright::bench
