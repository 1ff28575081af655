// The wet film that a gun leaves on its passes: at any place in closed form, without a grid.
//
// Every stroke knows how far it reaches, so far strokes cost a comparison. Whole rows are quicker than single
// places: the strokes that miss the row are left out once, and of the others only the part of the row that
// they reach is visited. Both give the same film.
//
// Source     stroke.h, footprint.h
// Holds for  a flat panel square to the gun. The transfer share is the gun's at every distance
// Accuracy   paint on an endless plane = flow x trigger time x transfer within 1e-6
// Checks     tests/spray/deposit_test.cpp
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/spray/footprint.h"
#include "fadewright/spray/stroke.h"

#include <cstddef>
#include <span>
#include <vector>

namespace fadewright::spray {

class Deposit {
public:
    Deposit(const Gun& gun, std::span<const Pass> passes);

    // Wet film, micrometres (= mL per m2).
    [[nodiscard]] double wet_um(double x_mm, double y_mm) const noexcept;

    // Adds the film at (x[i], y) to out[i]. x in increasing order, out of the same length (contract).
    void add_wet_um(std::span<const double> x_mm, double y_mm, std::span<double> out) const;

    [[nodiscard]] Millilitres sprayed() const noexcept { return used_.sprayed; }  // leaves the gun
    [[nodiscard]] Millilitres landed_endless() const noexcept { return transfer_.value * used_.sprayed; }
    [[nodiscard]] Seconds trigger_time() const noexcept { return used_.trigger; }
    [[nodiscard]] int passes() const noexcept { return passes_; }  // movements of the gun, repeats counted

    [[nodiscard]] const Footprint& footprint() const noexcept { return footprint_; }
    [[nodiscard]] const std::vector<Stroke>& strokes() const noexcept { return pieces_.strokes; }
    [[nodiscard]] const std::vector<Burst>& bursts() const noexcept { return pieces_.bursts; }

private:
    Footprint footprint_;
    Share transfer_;
    Strokes pieces_;
    std::vector<Box> stroke_boxes_;
    std::vector<Box> burst_boxes_;
    Used used_;
    int passes_ = 0;
};

}  // namespace fadewright::spray
