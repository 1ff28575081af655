// Time to compare the methods of the demo's fade, and to tune it, on two threads.
#include "fadewright/assess/tune.h"
#include "fadewright/base/parallel.h"
#include "preset_library.h"
#include "published_table.h"

#include <benchmark/benchmark.h>

#include <fstream>
#include <memory>
#include <sstream>

using namespace fadewright;
using namespace fadewright::render;
using namespace fadewright::assess;
using benchmark::State;

namespace {

constexpr const char* kFade = "presets/plans/dusk-fade-short.toml";

planner::ResolvedPlan resolved_fade_plan() {
    std::ifstream in(test::source_path(kFade));
    std::ostringstream text;
    text << in.rdbuf();
    plan::Library library = test::preset_library();
    return planner::resolve(std::make_shared<Source>(kFade, text.str()), library);
}

void compare(State& state) {
    const planner::ResolvedPlan resolved = resolved_fade_plan();
    const ThreadLimit limit(2);
    for (auto _ : state) {
        plan::Library library = test::preset_library();
        const auto comparison = compare_fade_methods(resolved, library);
        if (!comparison) return state.SkipWithError("the fade of the demo is not possible");
        state.counters["methods"] = static_cast<double>(comparison->results.size());
    }
}

void tune(State& state) {
    const planner::ResolvedPlan resolved = resolved_fade_plan();
    const ThreadLimit limit(2);
    for (auto _ : state) {
        const auto result = tune_fade(resolved, {}, test::preset_library());
        if (!result.after.metrics) return state.SkipWithError("the demo's fade cannot be tuned");
        state.counters["trials"] = result.trials;
        state.counters["banding"] = result.after.metrics->banding_over_threshold;
        state.counters["width_mm"] = result.after.metrics->width.value;
    }
}

const auto* const kCompare =
    benchmark::RegisterBenchmark("fade: every method of the demo, 2 threads", compare)
        -> Unit(benchmark::kMillisecond) -> MeasureProcessCPUTime() -> UseRealTime() -> Iterations(3);
const auto* const kTune = benchmark::RegisterBenchmark("tune: the demo, 2 threads", tune)
                              -> Unit(benchmark::kMillisecond) -> MeasureProcessCPUTime() -> UseRealTime()
                                  -> Iterations(1);

}  // namespace
