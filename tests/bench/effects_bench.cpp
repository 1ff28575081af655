// Cost of flakes: the preview of a plan with effects against the same plan without its flakes.
//
// `times` is the ratio of their times, alternating within one run; it should stay below 2.
#include "fadewright/film/flake_layer.h"
#include "fadewright/render/preview.h"
#include "preset_library.h"

#include <benchmark/benchmark.h>

#include <algorithm>
#include <chrono>
#include <cmath>

using namespace fadewright;
using benchmark::State;

namespace {

constexpr double kMaxRatio = 2;

// The same coats with the same films, binder and debris.
plan::Job without_flakes(plan::Job job) {
    for (plan::ResolvedCoat& coat : job.coats) {
        for (const paint::EffectPigment& flakes : coat.mix.flakes) {
            const film::FlakeCoefficients optics = film::diffuse_coefficients(flakes);
            for (std::size_t band = 0; band < colour::kBandCount; ++band) {
                coat.mix.K[band] = std::max(0.0, coat.mix.K[band] - optics.K[band]);
                coat.mix.S[band] = std::max(0.0, coat.mix.S[band] - optics.S[band]);
            }
        }
        coat.mix.flakes.clear();
    }
    return job;
}

struct TimedPreview {
    double seconds;
    std::size_t samples;
};

TimedPreview time_preview(const plan::Job& job) {
    static const colour::OutputProfile srgb = colour::OutputProfile::srgb();
    render::PreviewSettings settings;
    settings.longest_px = 1920;
    const auto begin = std::chrono::steady_clock::now();
    const render::Preview result = render::preview(job, job.light, srgb, settings);
    return {std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count(), result.samples};
}

void effects(State& state, const char* plan) {
    const plan::Job flake_job = test::job_of_file(plan), plain_job = without_flakes(flake_job);
    double with_s = 0, without_s = 0;
    TimedPreview last{}, plain{};
    for (auto _ : state) {
        plain = time_preview(plain_job);
        last = time_preview(flake_job);
        without_s += plain.seconds;
        with_s += last.seconds;
        state.SetIterationTime(last.seconds);
    }
    state.counters["ratio"] = with_s / without_s;
    state.counters["points"] = static_cast<double>(last.samples);
    state.counters["points_without"] = static_cast<double>(plain.samples);
    if (with_s > kMaxRatio * without_s) state.SkipWithError("effects take more than twice the time");
}

BENCHMARK_CAPTURE(effects, dusk_pearl, "presets/plans/dusk-pearl.toml")
    ->Name("preview 1920 with effects, dusk-pearl")
    ->UseManualTime()
    ->Unit(benchmark::kMillisecond)
    ->Iterations(5);
BENCHMARK_CAPTURE(effects, candy_drop, "presets/plans/candy-drop.toml")
    ->Name("preview 1920 with effects, candy-drop")
    ->UseManualTime()
    ->Unit(benchmark::kMillisecond)
    ->Iterations(5);

}  // namespace
