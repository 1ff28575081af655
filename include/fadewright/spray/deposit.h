// Deposit: the wet film of all passes of a coat, at any point, without a grid.
//
// On a flat panel segments are summed in closed form; a gun with a lead angle, and any gun over a relief, is
// summed puff by puff. A grid index finds the segments near a point, so that distant ones cost nothing. Whole
// rows are faster than single points: segments that miss the row are skipped once, of the others only the
// reached part of the row is visited, and a segment parallel to the row has constant film between its ends.
// All give the same film.
//
// The order of the passes does not matter: wet films add up.
//
// Source: own derivation.
// Accuracy   paint on an infinite plane = flow x trigger time x transfer efficiency within 1e-6, with puffs
//            within 1e-4; row and point agree within 1e-9 of the peak
// Checks     tests/spray/deposit_test.cpp, tests/spray/puffs_fast_test.cpp
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
    [[nodiscard]] Millilitres landed_on_infinite_plane() const noexcept;  // of it, on an infinite panel
    [[nodiscard]] Seconds trigger_time() const noexcept;
    [[nodiscard]] int passes() const noexcept;  // movements of the gun, repeats counted

    [[nodiscard]] const Footprint& footprint() const noexcept;
    [[nodiscard]] double distance_mm() const noexcept;                        // the gun's reference distance
    [[nodiscard]] const std::vector<PassSegment>& segments() const noexcept;  // in closed form
    [[nodiscard]] const std::vector<Puff>& puffs() const noexcept;
    [[nodiscard]] double min_feature_mm() const noexcept;  // step that resolves the finest footprint

private:
    struct Parts;
    std::shared_ptr<const Parts> parts_;
};

}  // namespace fadewright::spray
