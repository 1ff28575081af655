// The heights of the single parts of a relief (spray/relief.h), and between which heights each of them stays.
#pragma once

#include "fadewright/spray/relief.h"

namespace fadewright::spray {

struct Heights {
    double lowest, highest;
};

[[nodiscard]] Slope slope_of(const Cylinder& part, double x_mm, double y_mm) noexcept;
[[nodiscard]] Slope slope_of(const Sphere& part, double x_mm, double y_mm) noexcept;
[[nodiscard]] Slope slope_of(const Dome& part, double x_mm, double y_mm) noexcept;
[[nodiscard]] Slope slope_of(const Bevel& part, double x_mm, double y_mm) noexcept;
[[nodiscard]] Slope slope_of(const Groove& part, double x_mm, double y_mm) noexcept;
[[nodiscard]] Slope slope_of(const HeightMap& part, double x_mm, double y_mm) noexcept;

[[nodiscard]] Heights heights_of(const Cylinder& part, const Box& over) noexcept;
[[nodiscard]] Heights heights_of(const Sphere& part, const Box& over) noexcept;
[[nodiscard]] Heights heights_of(const Dome& part, const Box& over) noexcept;
[[nodiscard]] Heights heights_of(const Bevel& part, const Box& over) noexcept;
[[nodiscard]] Heights heights_of(const Groove& part, const Box& over) noexcept;
[[nodiscard]] Heights heights_of(const HeightMap& part, const Box& over) noexcept;

// Stops at broken promises (spray/relief.h).
void expect_sound(const Cylinder& part);
void expect_sound(const Sphere& part);
void expect_sound(const Dome& part);
void expect_sound(const Bevel& part);
void expect_sound(const Groove& part);
void expect_sound(const HeightMap& part);

}  // namespace fadewright::spray
