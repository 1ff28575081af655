// The interactive frame: twelve coats and 120 passes at 1920 x 1080, every pixel and refined; an edit of one
// coat at 1280 x 720 against the whole picture from scratch; and the growth of the cost with pixels and with
// coats.
#include "coats_plan.h"
#include "fadewright/colour/delta_e.h"
#include "fadewright/colour/profile.h"
#include "fadewright/render/incremental_renderer.h"
#include "fadewright/render/preview.h"
#include "preset_library.h"
#include "seconds.h"

#include <benchmark/benchmark.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <vector>

using namespace fadewright;
using namespace fadewright::render;
using bench::seconds_of;
using benchmark::State;

namespace {

constexpr int kCoats = 12;
constexpr double kAllowed_dE = 0.3, kMostlyAllowed_dE = 0.1;

const colour::OutputProfile& srgb() {
    static const colour::OutputProfile profile = colour::OutputProfile::srgb();
    return profile;
}

PreviewSettings sized(int longest_px, Sampling work = Sampling::adaptive) {
    PreviewSettings settings;
    settings.longest_px = longest_px;
    settings.margin = Millimetres{0.0};
    settings.sampling = work;
    return settings;
}

double median(std::vector<double> values) {
    std::sort(values.begin(), values.end());
    return values[values.size() / 2];
}

void frame_refined(State& state) {
    const plan::Job job = test::job_of(bench::coats_plan(kCoats));
    Image<float> plain;
    const double plain_s = seconds_of(
        [&] { plain = device_picture(job, job.light, srgb(), sized(1920, Sampling::every_pixel)); });
    const Image<float> refined = device_picture(job, job.light, srgb(), sized(1920));
    std::vector<double> dE;
    for (std::size_t i = 0; i + 2 < plain.samples.size(); i += 3) {
        const float *p = &plain.samples[i], *q = &refined.samples[i];
        dE.push_back(std::equal(p, p + 3, q)
                         ? 0
                         : colour::delta_e_2000(srgb().lab_of({p[0], p[1], p[2], false}),
                                                srgb().lab_of({q[0], q[1], q[2], false})));
    }
    std::sort(dE.begin(), dE.end());
    if (dE.back() > kAllowed_dE || dE[dE.size() * 99 / 100] > kMostlyAllowed_dE)
        return state.SkipWithError("difference from the reference picture too large");
    std::vector<double> took;
    for (auto _ : state) {
        took.push_back(seconds_of([&] { (void)preview(job, job.light, srgb(), sized(1920)); }));
        state.SetIterationTime(took.back());
    }
    state.counters["plain_ms"] = 1000 * plain_s;
    state.counters["speedup"] = plain_s / median(took);
    state.counters["max_dE"] = dE.back();
}

// The plan with one more change: a control of every coat in turn is moved five times, the reducer of its mix
// in one coat, the fluid flow in the next; earlier changes stay.
class PassEdits {
public:
    plan::Job next() {
        const int coat = turn_ / kMoves % kCoats;
        const bool in_mix = coat % 2 == 0;
        const std::string name =
            in_mix ? fmt::format("[mixes.m{}]\n", coat) : fmt::format("mix = \"m{}\"\n", coat);
        const std::size_t line = text_.find(name) + name.size();
        if (turn_ % kMoves > 0 || turn_ >= kMoves * kCoats)
            text_.erase(line, text_.find('\n', line) + 1 - line);
        text_.insert(line, in_mix ? fmt::format("reduce = \"{} %\"\n", 1 + turn_ % 20)
                                  : fmt::format("flow = \"{} mL/min\"\n", 40 + turn_ % 20));
        ++turn_;
        return test::job_of(text_);
    }

private:
    static constexpr int kMoves = 5;
    std::string text_ = bench::coats_plan(kCoats);
    int turn_ = 0;
};

// Verified against a picture from scratch.
void edit_one_coat(State& state) {
    PassEdits edits;
    IncrementalRenderer renderer(colour::OutputProfile::srgb());
    const plan::Job first = test::job_of(bench::coats_plan(kCoats));
    (void)renderer.update(first, first.light, sized(1280));
    std::vector<double> took, fresh_times;
    for (auto _ : state) {
        const plan::Job job = edits.next();
        const Preview* updated = nullptr;
        took.push_back(seconds_of([&] { updated = renderer.update(job, job.light, sized(1280)); }));
        state.SetIterationTime(took.back());
        Preview reference;
        fresh_times.push_back(seconds_of([&] { reference = preview(job, job.light, srgb(), sized(1280)); }));
        if (!(updated->picture == reference.picture))
            return state.SkipWithError("differs from the picture from scratch");
    }
    state.counters["median_ms"] = 1000 * median(took);
    state.counters["slowest_ms"] = 1000 * *std::max_element(took.begin(), took.end());
    state.counters["full_ms"] = 1000 * median(fresh_times);
    state.counters["speedup"] = median(fresh_times) / median(took);
}

double refined_seconds(const plan::Job& job, int longest_px) {
    std::vector<double> took;
    for (int i = 0; i < 5; ++i)
        took.push_back(seconds_of([&] { (void)preview(job, job.light, srgb(), sized(longest_px)); }));
    return median(took);
}

// Times of two, four and sixteen times the amount over that of one, and the exponent over all sixteen.
void show_growth(State& state, const std::function<double(int times)>& seconds_of_times) {
    for (auto _ : state) {
        const double once = seconds_of_times(1), all = seconds_of_times(16);
        state.SetIterationTime(all);
        state.counters["x2"] = seconds_of_times(2) / once;
        state.counters["x4"] = seconds_of_times(4) / once;
        state.counters["x16"] = all / once;
        state.counters["exponent"] = std::log(all / once) / std::log(16.0);
    }
}

void growth_with_pixels(State& state) {
    const plan::Job job = test::job_of(bench::coats_plan(kCoats));
    show_growth(state, [&](int times) {
        return refined_seconds(job, static_cast<int>(std::lround(960 * std::sqrt(times))));
    });
}

void growth_with_coats(State& state) {
    show_growth(state,
                [&](int times) { return refined_seconds(test::job_of(bench::coats_plan(3 * times)), 1920); });
}

}  // namespace

namespace fadewright::bench {

void add_frames() {
    const auto add = [](const char* name, void (*function)(State&), int iterations) {
        benchmark::RegisterBenchmark(name, function)
            ->Unit(benchmark::kMillisecond)
            ->UseManualTime()
            ->Iterations(iterations);
    };
    add("frame 1920 x 1080, 12 coats, 120 passes, refined", frame_refined, 7);
    add("edit of one coat, 1280 x 720", edit_one_coat, 120);
    add("growth over 16 x the pixels", growth_with_pixels, 1);
    add("growth over 16 x the coats", growth_with_coats, 1);
}

}  // namespace fadewright::bench
