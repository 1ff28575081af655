#include "fadewright/assess/defects.h"

#include "defect_kinds.h"

#include <algorithm>
#include <cmath>

namespace fadewright::assess {
namespace {

// Dry film of one coat, through its masks.
std::vector<double> dry_film(const SampledCoat& coat) {
    std::vector<double> film(coat.grid.size());
    for (std::size_t i = 0; i < film.size(); ++i)
        film[i] = coat.dry_um(i) * (coat.mask_transmission.empty() ? 1 : coat.mask_transmission[i]);
    return film;
}

std::vector<double> dry_film(const plan::ResolvedCoat& coat, const PanelGrid& grid) {
    std::vector<double> film = grid.mask_transmission(coat);
    if (film.empty()) film.assign(grid.size(), 1.0);
    for (double& um : film) um *= coat.even_film.value;
    return film;
}

std::vector<double> dry_film(const plan::Job& job, const PanelGrid& grid,
                             const std::vector<SampledCoat>& sampled) {
    std::vector<double> film(grid.size(), 0.0);
    const auto add = [&](const std::vector<double>& addition) {
        for (std::size_t i = 0; i < film.size(); ++i) film[i] += addition[i];
    };
    for (const SampledCoat& coat : sampled) add(dry_film(coat));
    for (const plan::ResolvedCoat& coat : job.coats)
        if (!coat.deposit) add(dry_film(coat, grid));
    return film;
}

template <class Range>
void append(Range&& added, std::vector<Defect>& list) {
    for (auto& defect : added) list.push_back(std::move(defect));
}
void append(std::optional<Defect> added, std::vector<Defect>& list) {
    if (added) list.push_back(std::move(*added));
}

}  // namespace

std::string_view defect_name(DefectKind kind) noexcept {
    switch (kind) {
        case DefectKind::sag:
            return "sag";
        case DefectKind::dry_spray:
            return "dry-spray";
        case DefectKind::striping:
            return "striping";
        case DefectKind::holidays:
            return "holidays";
        case DefectKind::film_build:
            return "film-build";
        case DefectKind::edge:
            return "edge";
        case DefectKind::flakes:
            break;
    }
    return "flakes";
}

std::string_view severity_name(Severity severity) noexcept {
    if (severity == Severity::ok) return "ok";
    return severity == Severity::check ? "check" : "problem";
}

double severity_score(double value, double check, double problem) noexcept {
    const double excess = (value - check) / (problem - check);
    if (excess >= 0) return 1 + excess;
    return problem > check ? value / check : std::max(0.0, 1 + excess);
}

Severity to_severity(double score) noexcept {
    if (score >= 2) return Severity::problem;
    return score >= 1 ? Severity::check : Severity::ok;
}

void raise_score(const SeverityScores& map, std::size_t i, double score) { map[i] = std::max(map[i], score); }

double SampledCoat::dry_um(std::size_t i) const {
    return coat.even_film.value + paint::dry_per_wet(coat.mix) * unmasked_wet_um[i];
}

Defects find_defects(const plan::Job& job) {
    const PanelGrid grid(job);
    std::vector<SampledCoat> sampled;
    for (const plan::ResolvedCoat& coat : job.coats)
        if (coat.deposit)
            sampled.push_back({job, coat, grid, grid.wet_um(coat), grid.mask_transmission(coat)});
    std::array<std::vector<double>, kDefectKinds.size()> maps;
    for (std::vector<double>& map : maps) map.assign(grid.size(), 0.0);
    const auto map_of = [&](DefectKind kind) { return SeverityScores(maps[static_cast<std::size_t>(kind)]); };
    Defects out;
    for (const SampledCoat& coat : sampled) {
        append(sag_defect(coat, map_of(DefectKind::sag)), out.list);
        append(dry_spray_defect(coat, map_of(DefectKind::dry_spray)), out.list);
        append(striping_defects(coat, map_of(DefectKind::striping)), out.list);
        append(holidays_defect(coat, map_of(DefectKind::holidays)), out.list);
        append(edge_defects(coat, map_of(DefectKind::edge)), out.list);
        if (!coat.coat.mix.flakes.empty())
            append(flakes_defect(coat.coat, grid, dry_film(coat), map_of(DefectKind::flakes)), out.list);
    }
    for (const plan::ResolvedCoat& coat : job.coats)
        if (!coat.deposit && !coat.mix.flakes.empty())
            append(flakes_defect(coat, grid, dry_film(coat, grid), map_of(DefectKind::flakes)), out.list);
    append(film_build_defect(grid, dry_film(job, grid, sampled), map_of(DefectKind::film_build)), out.list);
    out.map.frame = grid.frame();
    out.map.scores =
        Image<float>(grid.frame().width, grid.frame().height, static_cast<int>(kDefectKinds.size()));
    for (std::size_t i = 0; i < grid.size(); ++i)
        for (std::size_t k = 0; k < maps.size(); ++k)
            out.map.scores.samples[i * maps.size() + k] =
                grid.inside(i) ? static_cast<float>(maps[k][i]) : -1.0f;
    return out;
}

std::vector<Defect> list_defects(const plan::Job& job) { return find_defects(job).list; }

}  // namespace fadewright::assess
