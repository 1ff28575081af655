// Speed measurements in one table: the preview of the demo at every pixel and refined, its parts, and the
// whole program.
//
// Times are those of this machine; comparable between machines is the ratio `speedup`, every pixel over
// refined within one run. The refined picture is compared with the reference before it counts. Run it on an
// idle machine: build/release/tests/fadewright_bench
#include "fadewright/base/parallel.h"
#include "fadewright/colour/delta_e.h"
#include "fadewright/render/png.h"
#include "fadewright/render/preview.h"
#include "preset_library.h"
#include "published_table.h"

#include <benchmark/benchmark.h>

#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <map>
#include <string>
#include <vector>

using namespace fadewright;
using namespace fadewright::render;
using benchmark::State;

namespace {

constexpr const char* kDemo = "presets/plans/dusk-fade.toml";
constexpr const char* kFade = "presets/plans/dusk-fade-short.toml";
constexpr int kSizes_px[] = {1280, 1920, 3840};
constexpr int kWide_px = 1920;
constexpr double kAllowed_dE = 0.3;

double seconds_since(std::chrono::steady_clock::time_point begin) {
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
}

const plan::Job& demo() {
    static const plan::Job job = test::job_of_file(kDemo);
    return job;
}

const colour::OutputProfile& srgb() {
    static const colour::OutputProfile profile = colour::OutputProfile::srgb();
    return profile;
}

PreviewSettings sized(int longest_px, Sampling work) {
    PreviewSettings settings;
    settings.longest_px = longest_px;
    settings.sampling = work;
    return settings;
}

// The reference picture before dithering and its time, calculated once for each size.
struct Plain {
    Image<float> picture;
    double seconds;
};

const Plain& plain(int longest_px) {
    static std::map<int, Plain> preview_result;
    const auto known = preview_result.find(longest_px);
    if (known != preview_result.end()) return known->second;
    (void)demo();
    const auto begin = std::chrono::steady_clock::now();
    Image<float> picture =
        device_picture(demo(), demo().light, srgb(), sized(longest_px, Sampling::every_pixel));
    return preview_result.emplace(longest_px, Plain{std::move(picture), seconds_since(begin)}).first->second;
}

double worst_dE(const Image<float>& a, const Image<float>& b) {
    std::vector<double> worst(static_cast<std::size_t>(a.height), 0.0);
    parallel_for(worst.size(), [&](std::size_t row) {
        for (int x = 0; x < a.width; ++x) {
            const float *p = a.pixel(x, static_cast<int>(row)), *q = b.pixel(x, static_cast<int>(row));
            if (std::equal(p, p + 3, q)) continue;
            worst[row] = std::max(worst[row], colour::delta_e_2000(srgb().lab_of({p[0], p[1], p[2], false}),
                                                                   srgb().lab_of({q[0], q[1], q[2], false})));
        }
    });
    return *std::max_element(worst.begin(), worst.end());
}

void preview_plain(State& state, int longest_px) {
    for (auto _ : state) state.SetIterationTime(plain(longest_px).seconds);
    const Image<float>& picture = plain(longest_px).picture;
    state.counters["px"] = static_cast<double>(picture.width) * picture.height;
}

void preview_refined(State& state, int longest_px) {
    (void)demo();
    const Image<float> picture =
        device_picture(demo(), demo().light, srgb(), sized(longest_px, Sampling::adaptive));
    const double dE = worst_dE(picture, plain(longest_px).picture);
    if (dE > kAllowed_dE) return state.SkipWithError("difference from the reference picture too large");
    double seconds = 0;
    std::size_t samples = 0;
    for (auto _ : state) {
        const auto begin = std::chrono::steady_clock::now();
        const Preview preview_result =
            preview(demo(), demo().light, srgb(), sized(longest_px, Sampling::adaptive));
        const double took = seconds_since(begin);
        state.SetIterationTime(took);
        seconds += took;
        samples = preview_result.samples;
    }
    state.counters["speedup"] = plain(longest_px).seconds * static_cast<double>(state.iterations()) / seconds;
    state.counters["max_dE"] = dE;
    state.counters["points"] = static_cast<double>(samples);
}

void png_encode(State& state) {
    const Preview preview_result = preview(demo(), demo().light, srgb(), sized(kWide_px, Sampling::adaptive));
    PngMetadata metadata;
    metadata.icc = srgb().icc_bytes();
    metadata.icc_name = "sRGB";
    std::string bytes;
    for (auto _ : state) {
        bytes = png_bytes(preview_result.picture, metadata);
        benchmark::DoNotOptimize(bytes.data());
    }
    const Result<Picture> read = read_picture(bytes, "bench.png");
    if (!read || !(read.value() == preview_result.picture))
        return state.SkipWithError("the picture was not restored");
    state.counters["bytes"] = static_cast<double>(bytes.size());
}

// The film of every coat at every pixel, one thread, no optics.
void deposit_alone(State& state) {
    const spray::Panel& panel = demo().panel;
    constexpr int kColumns = kWide_px, kRows = 1200;
    std::vector<double> x(kColumns), y(kColumns), film(kColumns);
    for (int i = 0; i < kColumns; ++i)
        x[static_cast<std::size_t>(i)] = panel.width.value * (i + 0.5) / kColumns;
    for (auto _ : state)
        for (int row = 0; row < kRows; ++row) {
            std::fill(y.begin(), y.end(), panel.height.value * (row + 0.5) / kRows);
            for (const plan::ResolvedCoat& coat : demo().coats) {
                std::fill(film.begin(), film.end(), 0.0);
                coat.add_film_um(x, y, film);
                benchmark::DoNotOptimize(film.data());
            }
        }
    if (!(film[kColumns / 2] > 0)) return state.SkipWithError("no film");
    const double pixel_films =
        static_cast<double>(state.iterations()) * kColumns * kRows * static_cast<double>(demo().coats.size());
    state.counters["per_px_and_coat"] =
        benchmark::Counter(pixel_films, benchmark::Counter::kIsRate | benchmark::Counter::kInvert);
}

// The whole program as a child process, by wall clock.
void program(State& state, const std::vector<std::string>& arguments) {
    double peak_MiB = 0;
    for (auto _ : state) {
        const auto begin = std::chrono::steady_clock::now();
        const pid_t child = ::fork();
        if (child == 0) {
            std::vector<std::string> command_line{FW_PROGRAM};
            command_line.insert(command_line.end(), arguments.begin(), arguments.end());
            std::vector<char*> argv;
            for (std::string& word : command_line) argv.push_back(word.data());
            argv.push_back(nullptr);
            if (::chdir(test::source_path("").c_str()) != 0 || !std::freopen("/dev/null", "w", stdout))
                ::_exit(126);
            ::execv(argv[0], argv.data());
            ::_exit(127);
        }
        int status = 0;
        struct rusage used {};
        if (child < 0 || ::wait4(child, &status, 0, &used) != child || status != 0)
            return state.SkipWithError("the program failed");
        state.SetIterationTime(seconds_since(begin));
        // Peak of resident memory, in KiB on Linux. The child starts as a copy of this process, and inherited
        // memory would count: peak memory comes first in the table, before anything large is allocated here.
        peak_MiB = std::max(peak_MiB, static_cast<double>(used.ru_maxrss) / 1024);
    }
    state.counters["peak_MiB"] = peak_MiB;
}

}  // namespace

namespace fadewright::bench {
void add_layers();    // layers_bench.cpp
void add_encoding();  // encode_bench.cpp
void add_frames();    // frame_bench.cpp
void add_machine();   // machine_bench.cpp
}  // namespace fadewright::bench

int main(int argc, char** argv) {
    const std::string out = test::scratch_path("bench.png");
    const auto add_program = [&](const std::string& name, const std::vector<std::string>& arguments) {
        return benchmark::RegisterBenchmark(name.c_str(), program, arguments)
            ->UseManualTime()
            ->Unit(benchmark::kMillisecond);
    };
    add_program("program: library (start-up)", {"library"})->Iterations(20);
    add_program("program: preview 1920", {"preview", kDemo, "-o", out, "--size", "1920"})->Iterations(5);
    add_program("program: preview 3840", {"preview", kDemo, "-o", out, "--size", "3840"})->Iterations(2);
    add_program("program: fade", {"fade", kFade, "-o", out})->Iterations(2);
    add_program("program: tune", {"tune", kFade, "--plot", out})->Iterations(1);
    const auto add_part = [](const std::string& name, void (*function)(State&)) {
        return benchmark::RegisterBenchmark(name.c_str(), function)->Unit(benchmark::kMillisecond);
    };
    for (const int px : kSizes_px) {
        const auto add_size = [px](const char* label, void (*function)(State&, int), int iterations) {
            const std::string name = "preview " + std::to_string(px) + ", " + label;
            benchmark::RegisterBenchmark(name.c_str(), function, px)
                ->Unit(benchmark::kMillisecond)
                ->UseManualTime()
                ->Iterations(iterations);
        };
        add_size("every pixel", preview_plain, 1);
        add_size("refined", preview_refined, 10);
    }
    add_part("PNG of 1920", png_encode)->UseRealTime();
    add_part("film of every coat, 1920 x 1200, 1 thread", deposit_alone)->UseRealTime();
    bench::add_layers();
    bench::add_encoding();
    bench::add_frames();
    bench::add_machine();
    benchmark::Initialize(&argc, argv);
    benchmark::RunSpecifiedBenchmarks();
    return EXIT_SUCCESS;
}
