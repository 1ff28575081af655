// Time to find one recipe from the whole library, on one thread.
#include "fadewright/base/random.h"
#include "fadewright/film/colorimeter.h"
#include "fadewright/film/stack.h"
#include "fadewright/formulation/match.h"
#include "preset_library.h"

#include <benchmark/benchmark.h>

#include <cmath>
#include <vector>

using namespace fadewright;
using benchmark::State;

namespace {

constexpr std::uint64_t kSeed = 12;

const std::vector<const paint::Paint*>& colour_paints() {
    static plan::Library library = test::preset_library();
    static const std::vector<const paint::Paint*> paints = [] {
        std::vector<const paint::Paint*> all;
        Diagnostics diagnostics;
        for (const std::string& name : library.names(plan::LibraryKind::paints)) {
            const paint::Paint* paint = library.paint(name, diagnostics);
            if (paint->role == paint::Role::opaque || paint->role == paint::Role::transparent ||
                paint->role == paint::Role::white)
                all.push_back(paint);
        }
        return all;
    }();
    return paints;
}

// The reflectance of three paints in random parts, measured in air.
colour::Reflectance random_mix_reflectance(std::uint64_t index, const formulation::MatchSettings& settings) {
    std::vector<paint::Part> parts;
    for (std::uint64_t i = 0; i < 3; ++i) {
        const double position = uniform01(kSeed, index, i) * static_cast<double>(colour_paints().size());
        parts.push_back({colour_paints()[static_cast<std::size_t>(position)],
                         std::pow(30.0, -uniform01(kSeed, index, 10 + i))});
    }
    const paint::MixedPaint mix = paint::mix_paints(parts);
    const auto inside =
        settings.film_over_ground
            ? film::reflectance_over(mix, settings.film_over_ground->film, settings.film_over_ground->ground)
            : film::masstone(mix);
    return film::Colorimeter(settings.light, settings.observer, settings.specular).through_surface(inside);
}

enum class MatchInput { colour, spectrum };

// Every iteration is another target; the slowest and the largest difference are reported.
void match_targets(State& state, const formulation::MatchSettings& settings, MatchInput input) {
    std::uint64_t index = 0;
    double furthest = 0;
    for (auto _ : state) {
        state.PauseTiming();
        formulation::MatchTarget target =
            formulation::match_target(random_mix_reflectance(index++, settings), settings);
        if (input == MatchInput::colour) target.measured.reset();
        state.ResumeTiming();
        const auto recipes = formulation::match(target, colour_paints(), settings);
        furthest = std::max(furthest, recipes.front().delta_e);
    }
    state.counters["paints"] = static_cast<double>(colour_paints().size());
    state.counters["worst_dE"] = furthest;
}

void match_opaque(State& state) {
    formulation::MatchSettings settings;
    settings.max_paints = static_cast<int>(state.range(0));
    match_targets(state, settings, MatchInput::colour);
}

void match_spectrum(State& state) { match_targets(state, {}, MatchInput::spectrum); }

void match_film(State& state) {
    formulation::MatchSettings settings;
    settings.film_over_ground = formulation::MatchFilm{Micrometres{12}, colour::Reflectance::constant(0.36)};
    match_targets(state, settings, MatchInput::colour);
}

BENCHMARK(match_opaque)->Arg(3)->Arg(4)->Arg(6)->Unit(benchmark::kMillisecond);
BENCHMARK(match_spectrum)->Unit(benchmark::kMillisecond);
BENCHMARK(match_film)->Unit(benchmark::kMillisecond);

}  // namespace
