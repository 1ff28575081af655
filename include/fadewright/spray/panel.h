// Panel: the piece in front of the gun, its lower left corner at the origin, and the paint that lands on it.
//
// A rectangle with rounded corners, or any outline inside that rectangle; flat, or with a relief. The corner
// radius is clamped to half the shorter side.
//
// Paint outside the outline is lost: landed_volume() is the film integrated over the surface of the panel.
//
// One square metre under one micrometre of film is one millilitre.
//
// Accuracy   landed_volume() on a flat rectangle within 1e-6 of the paint sprayed for round guns and for
//            tapers of 2 and more, within 2e-5 for lower tapers, whose edges are steep; on other panels
//            within 1e-3. No sum depends on the number of threads
// Checks     tests/spray/panel_test.cpp, tests/spray/relief_film_test.cpp, tests/published/spreading.csv
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/geometry/outline.h"
#include "fadewright/spray/deposit.h"
#include "fadewright/spray/relief.h"

#include <functional>
#include <memory>
#include <span>

namespace fadewright::spray {

struct Panel {
    Millimetres width, height, corner_radius;
    std::shared_ptr<const geometry::Outline> outline = nullptr;  // none: the rectangle
    std::shared_ptr<const Relief> relief = nullptr;              // none: flat

    [[nodiscard]] bool inside(double x_mm, double y_mm) const noexcept;  // the outline itself is inside
    // Distance to the outline, negative inside. Exact everywhere.
    [[nodiscard]] double signed_distance_mm(double x_mm, double y_mm) const noexcept;
    [[nodiscard]] double area_m2() const noexcept;  // within the outline, projected to the front
    [[nodiscard]] double surface_m2() const;        // of the surface itself
    [[nodiscard]] SurfaceSample surface(double x_mm, double y_mm) const noexcept;
    [[nodiscard]] geometry::Outline outline_or_rectangle() const;  // also for the rectangle

    friend bool operator==(const Panel&, const Panel&) = default;
};

[[nodiscard]] Millilitres landed_volume(const Deposit& deposit, const Panel& panel);

// Integral over the surface of the panel, in (unit of the integrand) x mm2. `row` fills out[i] with the
// values at (x[i], y), x increasing; it is called from many threads. step_mm: step over which the values
// change little.
using RowFunction = std::function<void(std::span<const double> x_mm, double y_mm, std::span<double> out)>;
[[nodiscard]] double integrate_over(const Panel& panel, double step_mm, const RowFunction& row);

// Paint in an even film, and the area that an amount covers. Film and volume both wet, or both dry.
[[nodiscard]] Millilitres paint_in_film(Micrometres film, double area_m2) noexcept;
[[nodiscard]] double area_covered_m2(Millilitres paint, Micrometres film) noexcept;

}  // namespace fadewright::spray
