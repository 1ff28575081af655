// One function for each kind of defect of a coat. Each writes severity scores cell by cell and returns a
// Defect.
#pragma once

#include "fadewright/assess/defects.h"
#include "panel_grid.h"

#include <optional>
#include <span>
#include <vector>

namespace fadewright::assess {

// A sprayed coat on the grid.
struct SampledCoat {
    const plan::Job& job;
    const plan::ResolvedCoat& coat;
    const PanelGrid& grid;
    std::vector<double> unmasked_wet_um;    // wet film of its passes, without masks
    std::vector<double> mask_transmission;  // share through the masks; empty: no masks

    [[nodiscard]] double wet_um(std::size_t i) const {
        return unmasked_wet_um[i] * (mask_transmission.empty() ? 1 : mask_transmission[i]);
    }
    [[nodiscard]] bool behind_mask(std::size_t i) const {
        return !mask_transmission.empty() && mask_transmission[i] < 0.5;
    }
    [[nodiscard]] double dry_um(std::size_t i) const;  // with the coat's even film, unmasked
};

// One severity score for each cell of the grid.
using SeverityScores = std::span<double>;

// 1 at `check`, 2 at `problem`, linear between and beyond; `problem` may be below `check`.
[[nodiscard]] double severity_score(double value, double check, double problem) noexcept;
[[nodiscard]] Severity to_severity(double score) noexcept;

void raise_score(const SeverityScores& map, std::size_t i, double score);

[[nodiscard]] std::optional<Defect> sag_defect(const SampledCoat& sampled, SeverityScores map);
[[nodiscard]] std::optional<Defect> dry_spray_defect(const SampledCoat& sampled, SeverityScores map);
[[nodiscard]] std::vector<Defect> striping_defects(const SampledCoat& sampled, SeverityScores map);
[[nodiscard]] std::optional<Defect> holidays_defect(const SampledCoat& sampled, SeverityScores map);
[[nodiscard]] std::vector<Defect> edge_defects(const SampledCoat& sampled, SeverityScores map);
[[nodiscard]] std::optional<Defect> flakes_defect(const plan::ResolvedCoat& coat, const PanelGrid& grid,
                                                  std::span<const double> film_um, SeverityScores map);
[[nodiscard]] std::optional<Defect> film_build_defect(const PanelGrid& grid, std::span<const double> film_um,
                                                      SeverityScores map);

}  // namespace fadewright::assess
