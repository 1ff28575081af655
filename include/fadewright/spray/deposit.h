// The wet film that a gun leaves on its passes: at any place, without a grid.
//
// On a flat panel strokes are summed in closed form; a gun that leans along its travel, and any gun over a
// relief, is summed puff by puff. Places are found in a grid of cells, so that far strokes cost nothing.
// Whole rows are quicker than single places: the strokes that miss the row are left out once, of the others
// only the part of the row that they reach is visited, and between the ends of a level stroke the film is the
// same all along. All give the same film.
//
// The order of the passes does not matter: wet films add up.
//
// Source: own derivation.
// Accuracy   paint on an endless plane = flow x trigger time x transfer within 1e-6, with puffs within 1e-4;
//            row and place agree within 1e-9 of the peak
// Checks     tests/spray/deposit_test.cpp, tests/spray/puff_test.cpp
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/spray/flatten.h"
#include "fadewright/spray/footprint.h"
#include "fadewright/spray/puff.h"

#include <cstddef>
#include <memory>
#include <span>
#include <vector>

namespace fadewright::spray {

class Deposit {
public:
    Deposit(const Gun& gun, std::span<const Pass> passes, std::shared_ptr<const Relief> relief = nullptr);

    // Wet film, micrometres (= mL per m2 of surface).
    [[nodiscard]] double wet_um(double x_mm, double y_mm) const noexcept;

    // Adds the film at (x[i], y) to out[i]. x in increasing order, out of the same length (contract).
    void add_wet_um(std::span<const double> x_mm, double y_mm, std::span<double> out) const;

    [[nodiscard]] Millilitres sprayed_volume() const noexcept;            // leaves the gun
    [[nodiscard]] Millilitres landed_on_infinite_plane() const noexcept;  // of it, on a panel without end
    [[nodiscard]] Seconds trigger_time() const noexcept;
    [[nodiscard]] int passes() const noexcept;  // movements of the gun, repeats counted

    [[nodiscard]] const Footprint& footprint() const noexcept;
    [[nodiscard]] double distance_mm() const noexcept;                        // the gun's reference distance
    [[nodiscard]] const std::vector<PassSegment>& segments() const noexcept;  // in closed form
    [[nodiscard]] const std::vector<Puff>& puffs() const noexcept;
    [[nodiscard]] double min_feature_mm() const noexcept;  // step that follows the finest footprint laid

private:
    struct Parts;
    std::shared_ptr<const Parts> parts_;
};

}  // namespace fadewright::spray
