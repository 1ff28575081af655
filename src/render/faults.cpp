#include "fadewright/render/faults.h"

#include "fault_kinds.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace fadewright::render {
namespace {

// Dry film of one coat, through its masks.
std::vector<double> film_of(const SampledCoat& coat) {
    std::vector<double> film(coat.grid.size());
    for (std::size_t i = 0; i < film.size(); ++i)
        film[i] = coat.dry_um(i) * (coat.open.empty() ? 1 : coat.open[i]);
    return film;
}

std::vector<double> film_of(const plan::ReadyCoat& cover, const FaultGrid& grid) {
    std::vector<double> film = grid.open(cover);
    if (film.empty()) film.assign(grid.size(), 1.0);
    for (double& um : film) um *= cover.cover.value;
    return film;
}

std::vector<double> film_of(const plan::Job& job, const FaultGrid& grid,
                            const std::vector<SampledCoat>& sampled) {
    std::vector<double> film(grid.size(), 0.0);
    const auto add = [&](const std::vector<double>& more) {
        for (std::size_t i = 0; i < film.size(); ++i) film[i] += more[i];
    };
    for (const SampledCoat& coat : sampled) add(film_of(coat));
    for (const plan::ReadyCoat& coat : job.coats)
        if (!coat.deposit) add(film_of(coat, grid));
    return film;
}

template <class Found>
void take(Found&& found, std::vector<Fault>& list) {
    for (auto& fault : found) list.push_back(std::move(fault));
}
void take(std::optional<Fault> found, std::vector<Fault>& list) {
    if (found) list.push_back(std::move(*found));
}

}  // namespace

std::string_view kind_name(FaultKind kind) noexcept {
    switch (kind) {
        case FaultKind::sag:
            return "sag";
        case FaultKind::dry:
            return "dry";
        case FaultKind::ripple:
            return "ripple";
        case FaultKind::missed:
            return "missed";
        case FaultKind::film:
            return "film";
        case FaultKind::edge:
            return "edge";
        case FaultKind::flakes:
            break;
    }
    return "flakes";
}

std::string_view level_name(Level level) noexcept {
    if (level == Level::fine) return "fine";
    return level == Level::watch ? "watch" : "wrong";
}

double severity_of(double figure, double watch, double wrong) noexcept {
    const double beyond = (figure - watch) / (wrong - watch);
    if (beyond >= 0) return 1 + beyond;
    return wrong > watch ? figure / watch : std::max(0.0, 1 + beyond);
}

Level level_of(double severity) noexcept {
    if (severity >= 2) return Level::wrong;
    return severity >= 1 ? Level::watch : Level::fine;
}

std::string place_words(ShownUnits units, Millimetres x, Millimetres y) {
    return fmt::format("at {} from the left, {} up", units.text(x), units.text(y));
}

void mark(const Severities& map, std::size_t i, double severity) { map[i] = std::max(map[i], severity); }

double SampledCoat::dry_um(std::size_t i) const {
    return coat.cover.value + paint::dry_per_wet(coat.mix) * laid_um[i];
}

Faults found_faults(const plan::Job& job) {
    const FaultGrid grid(job);
    std::vector<SampledCoat> sampled;
    for (const plan::ReadyCoat& coat : job.coats)
        if (coat.deposit) sampled.push_back({job, coat, grid, grid.wet_um(coat), grid.open(coat)});
    std::array<std::vector<double>, kFaultKinds.size()> maps;
    for (std::vector<double>& map : maps) map.assign(grid.size(), 0.0);
    const auto map_of = [&](FaultKind kind) { return Severities(maps[static_cast<std::size_t>(kind)]); };
    Faults out;
    for (const SampledCoat& coat : sampled) {
        take(sag_fault(coat, map_of(FaultKind::sag)), out.list);
        take(dry_fault(coat, map_of(FaultKind::dry)), out.list);
        take(ripple_faults(coat, map_of(FaultKind::ripple)), out.list);
        take(missed_fault(coat, map_of(FaultKind::missed)), out.list);
        take(edge_faults(coat, map_of(FaultKind::edge)), out.list);
        if (!coat.coat.mix.flakes.empty())
            take(flakes_fault(coat.coat, grid, film_of(coat), map_of(FaultKind::flakes)), out.list);
    }
    for (const plan::ReadyCoat& coat : job.coats)
        if (!coat.deposit && !coat.mix.flakes.empty())
            take(flakes_fault(coat, grid, film_of(coat, grid), map_of(FaultKind::flakes)), out.list);
    take(film_fault(grid, film_of(job, grid, sampled), map_of(FaultKind::film)), out.list);
    out.map.frame = grid.frame();
    out.map.severity =
        Image<float>(grid.frame().width, grid.frame().height, static_cast<int>(kFaultKinds.size()));
    for (std::size_t i = 0; i < grid.size(); ++i)
        for (std::size_t k = 0; k < maps.size(); ++k)
            out.map.severity.samples[i * maps.size() + k] =
                grid.inside(i) ? static_cast<float>(maps[k][i]) : -1.0f;
    return out;
}

std::vector<Fault> faults(const plan::Job& job) { return found_faults(job).list; }

}  // namespace fadewright::render
