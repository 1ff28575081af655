// Faults of evenness: stripes, missed spots, edges and grooves, and too much film in all.

#include "fault_kinds.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace fadewright::render {
namespace {

// Film that a tenth of the open panel exceeds, in the coat's own dry film; none if it is not meant to cover.
std::optional<double> covering_film(const SampledCoat& sampled) {
    std::vector<double> films;
    for (std::size_t i = 0; i < sampled.grid.size(); ++i)
        if (sampled.grid.inside(i) && !sampled.behind_mask(i)) films.push_back(sampled.dry_um(i));
    if (films.empty()) return std::nullopt;
    const auto at = films.begin() + static_cast<std::ptrdiff_t>(0.9 * static_cast<double>(films.size() - 1));
    std::nth_element(films.begin(), at, films.end());
    const double high = *at;
    if (high <= 0) return std::nullopt;
    const auto enough = std::count_if(films.begin(), films.end(), [&](double f) { return f >= high / 2; });
    if (static_cast<double>(enough) < kCovering * static_cast<double>(films.size())) return std::nullopt;
    return high;
}

// Mean film over the cells that count, and the cell with the least and the most of it.
struct Part {
    double sum = 0, cells = 0;
    std::size_t least = 0, most = 0;

    void add(std::size_t i, const std::vector<double>& film) {
        if (cells == 0 || film[i] < film[least]) least = i;
        if (cells == 0 || film[i] > film[most]) most = i;
        sum += film[i];
        cells += 1;
    }
    [[nodiscard]] double mean() const { return sum / cells; }
};

Fault edge_fault(const SampledCoat& sampled, bool groove, const Part& part, double level_film) {
    const FaultGrid& grid = sampled.grid;
    const double ratio = part.mean() / level_film;
    const bool heavy = ratio > 1;
    const double wrong = heavy ? kFloodedGroove : kBareEdge;
    const double severity = severity_of(ratio, heavy ? kHeavyGroove : kThinEdge, wrong);
    const std::size_t worst = heavy ? part.most : part.least;
    Fault fault{FaultKind::edge,
                sampled.coat.name,
                ratio,
                wrong,
                level_of(severity),
                Millimetres{grid.x(worst)},
                Millimetres{grid.y(worst)},
                Share{part.cells / grid.cells_inside()},
                ""};
    fault.words = fmt::format("{} get {:.0f} % of the film of the level parts", groove ? "grooves" : "edges",
                              100 * ratio);
    if (groove)
        fault.words += ratio < 1 ? "; aim a pass along them" : "; wet paint gathers there besides";
    else
        fault.words += fmt::format(
            "; wet paint draws back from edges rounded less than {} besides "
            "(common practice): break them",
            grid.units().text(kSharpEdge));
    return fault;
}

}  // namespace

std::vector<Fault> ripple_faults(const SampledCoat& sampled, Severities map) {
    const plan::Job& job = sampled.job;
    const plan::ReadyCoat& coat = sampled.coat;
    const FaultGrid& grid = sampled.grid;
    std::vector<Fault> out;
    for (const Stripes& s : stripes(coat)) {
        const double shows = ripple_that_shows(s.spacing, job.view_distance);
        const double wrong = shows * kStripesGlare / kStripesShow;
        const double severity = severity_of(s.half_range, shows, wrong);
        double cells = 0, x = 0, y = 0;
        for (std::size_t i = 0; i < grid.size(); ++i) {
            const double px = grid.x(i), py = grid.y(i);
            if (!grid.inside(i) || px < s.over.x0 || px > s.over.x1 || py < s.over.y0 || py > s.over.y1)
                continue;
            mark(map, i, severity);
            cells += 1;
            x += px;
            y += py;
        }
        if (cells == 0) continue;
        Fault fault{FaultKind::ripple,
                    coat.name,
                    s.half_range,
                    wrong,
                    level_of(severity),
                    Millimetres{x / cells},
                    Millimetres{y / cells},
                    Share{severity >= 1 ? cells / grid.cells_inside() : 0.0},
                    ""};
        const std::string from_eye = job.units.distance(job.view_distance);
        fault.words = fmt::format("stripes every {}, film about {:.1f} % more and less",
                                  job.units.text(s.spacing), 100 * s.half_range);
        fault.words += fault.level == Level::fine
                           ? fmt::format("; too faint to show at {}", from_eye)
                           : fmt::format(
                                 "; they may show at {}: overlap more, or lay a second coat half a "
                                 "spacing on",
                                 from_eye);
        out.push_back(std::move(fault));
    }
    return out;
}

std::optional<Fault> missed_fault(const SampledCoat& sampled, Severities map) {
    const plan::Job& job = sampled.job;
    const plan::ReadyCoat& coat = sampled.coat;
    const FaultGrid& grid = sampled.grid;
    const std::optional<double> high = covering_film(sampled);
    if (!high) return std::nullopt;
    const auto missed = [&](std::size_t i) {
        return !sampled.behind_mask(i) && sampled.dry_um(i) < *high / 2;
    };
    std::vector<double> lack(grid.size(), 0.0);
    double cells = 0;
    for (std::size_t i = 0; i < grid.size(); ++i) {
        if (!grid.inside(i) || sampled.behind_mask(i)) continue;
        lack[i] = std::max(0.0, 1 - sampled.dry_um(i) / *high);
        mark(map, i, severity_of(lack[i], 0.5, 0.75));
        if (missed(i)) cells += 1;
    }
    const double share = cells / grid.cells_inside();
    const Level level = share > kMissedWrong.value   ? Level::wrong
                        : share > kMissedWatch.value ? Level::watch
                                                     : Level::fine;
    Fault fault{FaultKind::missed, coat.name, share, kMissedWrong.value, level, {}, {}, Share{share}, ""};
    const Worst worst = worst_of(grid, lack, missed);
    if (!worst.any) {
        fault.x = 0.5 * job.panel.width;
        fault.y = 0.5 * job.panel.height;
        fault.words = "covers the panel, no spot missed";
        return fault;
    }
    fault.x = Millimetres{grid.x(worst.cell)};
    fault.y = Millimetres{grid.y(worst.cell)};
    fault.words = fmt::format("{:.1f} % of the panel gets less than half of the film; least {}: {} of {} dry",
                              100 * share, place_words(job.units, fault.x, fault.y),
                              job.units.figure(Micrometres{sampled.dry_um(worst.cell)}, 1),
                              job.units.text(Micrometres{*high}, 1));
    return fault;
}

std::vector<Fault> edge_faults(const SampledCoat& sampled, Severities map) {
    const plan::Job& job = sampled.job;
    const FaultGrid& grid = sampled.grid;
    if (!job.panel.relief || job.panel.relief->flat()) return {};
    if (!covering_film(sampled)) return {};
    constexpr double kEdge_per_mm = 0.02, kLevel_per_mm = 0.003;  // curvature
    constexpr double kLevelSlope = 0.1;
    const double over = std::max(kSharpEdge.value, grid.frame().mm_per_px);
    std::vector<double> film(grid.size(), 0.0), bend(grid.size(), 0.0);
    Part edges, grooves, level;
    for (std::size_t i = 0; i < grid.size(); ++i) {
        if (!grid.inside(i) || sampled.behind_mask(i)) continue;
        film[i] = sampled.dry_um(i);
        // Beyond the outline there is no piece, whatever the relief says.
        if (job.panel.signed_distance_mm(grid.x(i), grid.y(i)) > -over) continue;
        bend[i] = job.panel.relief->curvature(grid.x(i), grid.y(i), over);
        const spray::Slope& s = grid.slopes()[i];
        if (bend[i] > kEdge_per_mm) edges.add(i, film);
        if (bend[i] < -kEdge_per_mm) grooves.add(i, film);
        if (std::abs(bend[i]) < kLevel_per_mm && std::hypot(s.dz_dx, s.dz_dy) < kLevelSlope)
            level.add(i, film);
    }
    std::vector<Fault> out;
    if (level.cells == 0 || level.mean() <= 0) return out;
    for (std::size_t i = 0; i < grid.size(); ++i) {
        if (std::abs(bend[i]) <= kEdge_per_mm) continue;
        const double ratio = film[i] / level.mean();
        mark(map, i,
             ratio > 1 ? severity_of(ratio, kHeavyGroove, kFloodedGroove)
                       : severity_of(ratio, kThinEdge, kBareEdge));
    }
    if (edges.cells > 0) out.push_back(edge_fault(sampled, false, edges, level.mean()));
    if (grooves.cells > 0) out.push_back(edge_fault(sampled, true, grooves, level.mean()));
    return out;
}

std::optional<Fault> film_fault(const FaultGrid& grid, std::span<const double> film_um, Severities map) {
    const double near = kNearBudget * kFilmBudget.value;
    double cells = 0;
    for (std::size_t i = 0; i < grid.size(); ++i) {
        if (!grid.inside(i)) continue;
        const double severity = severity_of(film_um[i], near, kFilmBudget.value);
        mark(map, i, severity);
        if (severity >= 1) cells += 1;
    }
    const Worst worst = worst_of(grid, film_um, [](std::size_t) { return true; });
    if (!worst.any) return std::nullopt;
    Fault fault{FaultKind::film,
                "",
                worst.value,
                kFilmBudget.value,
                level_of(severity_of(worst.value, near, kFilmBudget.value)),
                Millimetres{grid.x(worst.cell)},
                Millimetres{grid.y(worst.cell)},
                Share{cells / grid.cells_inside()},
                ""};
    fault.words = fmt::format("all coats together {} dry at most, {}; up to {} is common practice",
                              grid.units().text(Micrometres{worst.value}),
                              place_words(grid.units(), fault.x, fault.y), grid.units().text(kFilmBudget));
    return fault;
}

}  // namespace fadewright::render
