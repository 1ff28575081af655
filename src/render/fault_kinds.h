// One function for each kind of fault of a coat. Each marks how bad it is, cell by cell, and says it in a Fault.
#pragma once

#include "fadewright/render/faults.h"
#include "fault_grid.h"

#include <optional>
#include <span>
#include <vector>

namespace fadewright::render {

// A sprayed coat on the grid.
struct SampledCoat {
    const plan::Job& job;
    const plan::ReadyCoat& coat;
    const FaultGrid& grid;
    std::vector<double> laid_um;  // wet, of its passes, as if there were no masks
    std::vector<double> open;     // share through the masks; empty: all

    [[nodiscard]] double wet_um(std::size_t i) const { return laid_um[i] * (open.empty() ? 1 : open[i]); }
    [[nodiscard]] bool behind_mask(std::size_t i) const { return !open.empty() && open[i] < 0.5; }
    [[nodiscard]] double dry_um(std::size_t i) const;  // with the coat's cover, unmasked
};

// One severity for each cell of the grid.
using Severities = std::span<double>;

// 1 at `watch`, 2 at `wrong`, straight between and beyond; `wrong` may lie below `watch`.
[[nodiscard]] double severity_of(double figure, double watch, double wrong) noexcept;
[[nodiscard]] Level level_of(double severity) noexcept;
[[nodiscard]] std::string place_words(ShownUnits units, Millimetres x, Millimetres y);

void mark(const Severities& map, std::size_t i, double severity);

[[nodiscard]] std::optional<Fault> sag_fault(const SampledCoat& sampled, Severities map);
[[nodiscard]] std::optional<Fault> dry_fault(const SampledCoat& sampled, Severities map);
[[nodiscard]] std::vector<Fault> ripple_faults(const SampledCoat& sampled, Severities map);
[[nodiscard]] std::optional<Fault> missed_fault(const SampledCoat& sampled, Severities map);
[[nodiscard]] std::vector<Fault> edge_faults(const SampledCoat& sampled, Severities map);
[[nodiscard]] std::optional<Fault> flakes_fault(const plan::ReadyCoat& coat, const FaultGrid& grid,
                                                std::span<const double> film_um, Severities map);
[[nodiscard]] std::optional<Fault> film_fault(const FaultGrid& grid, std::span<const double> film_um,
                                              Severities map);

}  // namespace fadewright::render
