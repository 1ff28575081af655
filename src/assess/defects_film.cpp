// Defects of the film: striping, holidays, edges and grooves, and excess film build.

#include "defect_kinds.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace fadewright::assess {
namespace {

// Dry film of the coat that 10 % of the unmasked panel exceed; nothing if the coat is not meant to cover.
std::optional<double> covering_film(const SampledCoat& sampled) {
    std::vector<double> films;
    for (std::size_t i = 0; i < sampled.grid.size(); ++i)
        if (sampled.grid.inside(i) && !sampled.behind_mask(i)) films.push_back(sampled.dry_um(i));
    if (films.empty()) return std::nullopt;
    const auto at = films.begin() + static_cast<std::ptrdiff_t>(0.9 * static_cast<double>(films.size() - 1));
    std::nth_element(films.begin(), at, films.end());
    const double full_film = *at;
    if (full_film <= 0) return std::nullopt;
    const auto enough =
        std::count_if(films.begin(), films.end(), [&](double f) { return f >= full_film / 2; });
    if (static_cast<double>(enough) < kCoveringShare * static_cast<double>(films.size())) return std::nullopt;
    return full_film;
}

// Mean film over some cells, and the cells with the thinnest and the thickest film.
struct Part {
    double sum = 0, cells = 0;
    std::size_t min_cell = 0, max_cell = 0;

    void add(std::size_t i, const std::vector<double>& film) {
        if (cells == 0 || film[i] < film[min_cell]) min_cell = i;
        if (cells == 0 || film[i] > film[max_cell]) max_cell = i;
        sum += film[i];
        cells += 1;
    }
    [[nodiscard]] double mean() const { return sum / cells; }
};

Defect edge_defect(const SampledCoat& sampled, EdgePart edge_part, const Part& part, double level_film) {
    const PanelGrid& grid = sampled.grid;
    const double ratio = part.mean() / level_film;
    const bool heavy = ratio > 1;
    const double problem = heavy ? kFloodedGroove : kBareEdge;
    const double score = severity_score(ratio, heavy ? kHeavyGroove : kThinEdge, problem);
    const std::size_t worst = heavy ? part.max_cell : part.min_cell;
    return Defect{DefectKind::edge,
                  sampled.coat.name,
                  ratio,
                  problem,
                  to_severity(score),
                  Millimetres{grid.x(worst)},
                  Millimetres{grid.y(worst)},
                  Share{part.cells / grid.cells_inside()},
                  EdgeFigures{edge_part}};
}

}  // namespace

std::vector<Defect> striping_defects(const SampledCoat& sampled, SeverityScores map) {
    const plan::Job& job = sampled.job;
    const plan::ResolvedCoat& coat = sampled.coat;
    const PanelGrid& grid = sampled.grid;
    std::vector<Defect> out;
    for (const Striping& s : find_striping(coat)) {
        const double threshold = striping_threshold(s.spacing, job.view_distance);
        const double problem = threshold * kObviousStriping / kVisibleStriping;
        const double score = severity_score(s.half_range, threshold, problem);
        double cells = 0, x = 0, y = 0;
        for (std::size_t i = 0; i < grid.size(); ++i) {
            const double px = grid.x(i), py = grid.y(i);
            if (!grid.inside(i) || px < s.area.x0 || px > s.area.x1 || py < s.area.y0 || py > s.area.y1)
                continue;
            raise_score(map, i, score);
            cells += 1;
            x += px;
            y += py;
        }
        if (cells == 0) continue;
        out.push_back({DefectKind::striping, coat.name, s.half_range, problem, to_severity(score),
                       Millimetres{x / cells}, Millimetres{y / cells},
                       Share{score >= 1 ? cells / grid.cells_inside() : 0.0},
                       StripingFigures{s.spacing, job.view_distance}});
    }
    return out;
}

std::optional<Defect> holidays_defect(const SampledCoat& sampled, SeverityScores map) {
    const plan::Job& job = sampled.job;
    const plan::ResolvedCoat& coat = sampled.coat;
    const PanelGrid& grid = sampled.grid;
    const std::optional<double> full_film = covering_film(sampled);
    if (!full_film) return std::nullopt;
    const auto is_holiday = [&](std::size_t i) {
        return !sampled.behind_mask(i) && sampled.dry_um(i) < *full_film / 2;
    };
    std::vector<double> shortfall(grid.size(), 0.0);
    double cells = 0;
    for (std::size_t i = 0; i < grid.size(); ++i) {
        if (!grid.inside(i) || sampled.behind_mask(i)) continue;
        shortfall[i] = std::max(0.0, 1 - sampled.dry_um(i) / *full_film);
        raise_score(map, i, severity_score(shortfall[i], 0.5, 0.75));
        if (is_holiday(i)) cells += 1;
    }
    const double share = cells / grid.cells_inside();
    const Severity level = share > kHolidaysProblem.value ? Severity::problem
                           : share > kHolidaysCheck.value ? Severity::check
                                                          : Severity::ok;
    Defect defect{DefectKind::holidays,
                  coat.name,
                  share,
                  kHolidaysProblem.value,
                  level,
                  {},
                  {},
                  Share{share},
                  HolidayFigures{std::nullopt, Micrometres{*full_film}}};
    const Maximum worst = find_maximum(grid, shortfall, is_holiday);
    if (!worst.found) {
        defect.x = 0.5 * job.panel.width;
        defect.y = 0.5 * job.panel.height;
        return defect;
    }
    defect.x = Millimetres{grid.x(worst.cell)};
    defect.y = Millimetres{grid.y(worst.cell)};
    defect.figures = HolidayFigures{Micrometres{sampled.dry_um(worst.cell)}, Micrometres{*full_film}};
    return defect;
}

std::vector<Defect> edge_defects(const SampledCoat& sampled, SeverityScores map) {
    const plan::Job& job = sampled.job;
    const PanelGrid& grid = sampled.grid;
    if (!job.panel.relief || job.panel.relief->flat()) return {};
    if (!covering_film(sampled)) return {};
    constexpr double kEdge_per_mm = 0.02, kLevel_per_mm = 0.003;  // curvature
    constexpr double kLevelSlope = 0.1;
    const double radius = std::max(kSharpEdgeRadius.value, grid.frame().mm_per_px);
    std::vector<double> film(grid.size(), 0.0), curvature(grid.size(), 0.0);
    Part edges, grooves, level;
    for (std::size_t i = 0; i < grid.size(); ++i) {
        if (!grid.inside(i) || sampled.behind_mask(i)) continue;
        film[i] = sampled.dry_um(i);
        // The relief may reach beyond the outline; the piece does not.
        if (job.panel.signed_distance_mm(grid.x(i), grid.y(i)) > -radius) continue;
        curvature[i] = job.panel.relief->curvature(grid.x(i), grid.y(i), radius);
        const spray::SurfaceSample& s = grid.slopes()[i];
        if (curvature[i] > kEdge_per_mm) edges.add(i, film);
        if (curvature[i] < -kEdge_per_mm) grooves.add(i, film);
        if (std::abs(curvature[i]) < kLevel_per_mm && std::hypot(s.dz_dx, s.dz_dy) < kLevelSlope)
            level.add(i, film);
    }
    std::vector<Defect> out;
    if (level.cells == 0 || level.mean() <= 0) return out;
    for (std::size_t i = 0; i < grid.size(); ++i) {
        if (std::abs(curvature[i]) <= kEdge_per_mm) continue;
        const double ratio = film[i] / level.mean();
        raise_score(map, i,
                    ratio > 1 ? severity_score(ratio, kHeavyGroove, kFloodedGroove)
                              : severity_score(ratio, kThinEdge, kBareEdge));
    }
    if (edges.cells > 0) out.push_back(edge_defect(sampled, EdgePart::edges, edges, level.mean()));
    if (grooves.cells > 0) out.push_back(edge_defect(sampled, EdgePart::grooves, grooves, level.mean()));
    return out;
}

std::optional<Defect> film_build_defect(const PanelGrid& grid, std::span<const double> film_um,
                                        SeverityScores map) {
    const double check_film = kFilmBuildCheck * kMaxFilmBuild.value;
    double cells = 0;
    for (std::size_t i = 0; i < grid.size(); ++i) {
        if (!grid.inside(i)) continue;
        const double score = severity_score(film_um[i], check_film, kMaxFilmBuild.value);
        raise_score(map, i, score);
        if (score >= 1) cells += 1;
    }
    const Maximum worst = find_maximum(grid, film_um, [](std::size_t) { return true; });
    if (!worst.found) return std::nullopt;
    return Defect{DefectKind::film_build,
                  "",
                  worst.value,
                  kMaxFilmBuild.value,
                  to_severity(severity_score(worst.value, check_film, kMaxFilmBuild.value)),
                  Millimetres{grid.x(worst.cell)},
                  Millimetres{grid.y(worst.cell)},
                  Share{cells / grid.cells_inside()},
                  {}};
}

}  // namespace fadewright::assess
