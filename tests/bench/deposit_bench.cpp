// Many passes over all points of a large picture, point by point and by rows.
//
// `speedup` is the time of the reference, point by point, over that of the fast computation in the same run,
// `worst` their largest difference as a share of the maximum film. `linear` is the time of twice the passes
// over twice the time of the passes: 1 is linear.
#include "fadewright/spray/film_grid.h"
#include "preset_library.h"
#include "seconds.h"

#include <benchmark/benchmark.h>

#include <algorithm>
#include <cmath>
#include <vector>

using namespace fadewright;
using namespace fadewright::spray;
using namespace fadewright::geometry;
using bench::seconds_of;
using benchmark::State;

namespace {

constexpr int kColumns = 1920, kRows = 1080;
constexpr double kWidth_mm = 900, kHeight_mm = 506;

Gun small_fan() {
    Diagnostics diagnostics;
    plan::Library library = test::preset_library();
    return library.gun("fan-gun-small", diagnostics)->gun;
}

Point point_at(double x, double y) { return {Millimetres{x}, Millimetres{y}}; }

// Half of them horizontal, a quarter vertical, a fifth slanting, the rest curved.
std::vector<Pass> random_passes(int count) {
    std::vector<Pass> passes;
    for (int i = 0; i < count; ++i) {
        const double t = (i * 0.6180339887 - std::floor(i * 0.6180339887));
        Pass pass;
        pass.speed = MillimetresPerSecond{400};
        const int kind = i % 20;
        if (kind < 10) {
            pass.points = {point_at(-60, kHeight_mm * t), point_at(960, kHeight_mm * t)};
        } else if (kind < 15) {
            pass.points = {point_at(kWidth_mm * t, -60), point_at(kWidth_mm * t, 566)};
        } else if (kind < 19) {
            pass.points = {point_at(-60, kHeight_mm * t), point_at(960, kHeight_mm * (1 - t))};
        } else {
            pass.points = {point_at(-60, 200 * t), point_at(300, 300 * t + 100), point_at(600, 200),
                           point_at(960, 500 * t)};
            pass.smooth = true;
        }
        passes.push_back(pass);
    }
    return passes;
}

PointGrid picture_grid() {
    const double step = kWidth_mm / kColumns;
    return {step / 2, step / 2, step, kColumns, kRows};
}

void deposit_many(State& state) {
    const Gun gun = small_fan();
    const Deposit all(gun, random_passes(500)), doubled_passes(gun, random_passes(1000));
    std::vector<double> film = wet_film(all, picture_grid()), plain;
    const double plain_s = seconds_of([&] { plain = wet_film_reference(all, picture_grid()); });
    const double max_film = *std::max_element(plain.begin(), plain.end());
    double worst = 0;
    for (std::size_t i = 0; i < film.size(); ++i)
        worst = std::max(worst, std::abs(film[i] - plain[i]) / max_film);
    if (worst > 1e-3) return state.SkipWithError("difference from the reference film too large");
    double total = 0;
    for (auto _ : state) {
        const double took = seconds_of([&] { film = wet_film(all, picture_grid()); });
        state.SetIterationTime(took);
        total += took;
    }
    const double mean = total / static_cast<double>(state.iterations());
    const double doubled = seconds_of([&] { film = wet_film(doubled_passes, picture_grid()); });
    state.counters["speedup"] = plain_s / mean;
    state.counters["worst"] = worst;
    state.counters["linear"] = doubled / (2 * mean);
}

BENCHMARK(deposit_many)
    ->Name("500 passes over 1920 x 1080")
    ->UseManualTime()
    ->Unit(benchmark::kMillisecond)
    ->Iterations(5);

}  // namespace
