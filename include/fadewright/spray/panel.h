// The panel: a rectangle with rounded corners, its lower left corner at the origin, and what lands on it.
//
// What misses the outline is lost: landed_on() is the film integrated over the panel. The corner radius is
// at most half the shorter side; a larger one counts as that.
//
// Film, area and paint hang together: one square metre under one micrometre is one millilitre.
//
// Accuracy   landed_on within 1e-6 of the paint laid for round guns and for tapers of 2 and more, within 2e-5
// for
//            lower tapers, whose edges are steep. The sum does not depend on the number of threads
// Checks     tests/spray/panel_test.cpp, tests/published/spreading.csv
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/spray/deposit.h"

namespace fadewright::spray {

struct Panel {
    Millimetres width, height, corner_radius;

    [[nodiscard]] bool inside(double x_mm, double y_mm) const noexcept;  // the outline itself is inside
    // Distance to the outline, negative inside. Exact everywhere.
    [[nodiscard]] double signed_distance_mm(double x_mm, double y_mm) const noexcept;
    [[nodiscard]] double area_m2() const noexcept;

    friend bool operator==(const Panel&, const Panel&) = default;
};

[[nodiscard]] Millilitres landed_on(const Deposit& deposit, const Panel& panel);

// Paint in an even film, and the area that an amount covers. Film and volume both wet, or both dry.
[[nodiscard]] Millilitres paint_in_film(Micrometres film, double area_m2) noexcept;
[[nodiscard]] double area_covered_m2(Millilitres paint, Micrometres film) noexcept;

}  // namespace fadewright::spray
