// How long one recipe takes with the whole shelf to choose from, on one thread.
#include "fadewright/base/random.h"
#include "fadewright/film/looker.h"
#include "fadewright/film/match.h"
#include "fadewright/film/stack.h"
#include "shelf.h"

#include <benchmark/benchmark.h>

#include <cmath>
#include <vector>

using namespace fadewright;
using benchmark::State;

namespace {

constexpr std::uint64_t kSeed = 12;

const std::vector<const paint::Paint*>& bottles() {
    static plan::Shelf shelf = test::preset_shelf();
    static const std::vector<const paint::Paint*> paints = [] {
        std::vector<const paint::Paint*> all;
        Diagnostics diagnostics;
        for (const std::string& name : shelf.names(plan::ShelfKind::paints)) {
            const paint::Paint* paint = shelf.paint(name, diagnostics);
            if (paint->role == paint::Role::opaque || paint->role == paint::Role::transparent ||
                paint->role == paint::Role::white)
                all.push_back(paint);
        }
        return all;
    }();
    return paints;
}

// The reflectance of three paints in random parts, as it is seen.
colour::Reflectance seen_mix(std::uint64_t index, const film::MatchSettings& settings) {
    std::vector<paint::Part> parts;
    for (std::uint64_t i = 0; i < 3; ++i) {
        const double which = random_unit(kSeed, index, i) * static_cast<double>(bottles().size());
        parts.push_back(
            {bottles()[static_cast<std::size_t>(which)], std::pow(30.0, -random_unit(kSeed, index, 10 + i))});
    }
    const paint::MixedPaint mix = paint::mixed(parts);
    const auto inside =
        settings.over ? film::over(mix, settings.over->film, settings.over->ground) : film::masstone(mix);
    return film::Looker(settings.light, settings.observer, settings.specular).seen(inside);
}

enum class Known { colour, spectrum };

// Every turn of the loop is another target; the slowest and the furthest off are counted.
void match_targets(State& state, const film::MatchSettings& settings, Known known) {
    std::uint64_t index = 0;
    double furthest = 0;
    for (auto _ : state) {
        state.PauseTiming();
        film::MatchTarget target = film::target_of(seen_mix(index++, settings), settings);
        if (known == Known::colour) target.seen.reset();
        state.ResumeTiming();
        const auto recipes = film::match(target, bottles(), settings);
        furthest = std::max(furthest, recipes.front().delta_e);
    }
    state.counters["paints"] = static_cast<double>(bottles().size());
    state.counters["furthest_dE"] = furthest;
}

void match_opaque(State& state) {
    film::MatchSettings settings;
    settings.most_paints = static_cast<int>(state.range(0));
    match_targets(state, settings, Known::colour);
}

void match_spectrum(State& state) { match_targets(state, {}, Known::spectrum); }

void match_film(State& state) {
    film::MatchSettings settings;
    settings.over = film::MatchFilm{Micrometres{12}, colour::Reflectance::constant(0.36)};
    match_targets(state, settings, Known::colour);
}

BENCHMARK(match_opaque)->Arg(3)->Arg(4)->Arg(6)->Unit(benchmark::kMillisecond);
BENCHMARK(match_spectrum)->Unit(benchmark::kMillisecond);
BENCHMARK(match_film)->Unit(benchmark::kMillisecond);

}  // namespace
