// Heights of the single parts of a relief (spray/relief.h), and the range of heights of each.
#pragma once

#include "fadewright/spray/relief.h"

namespace fadewright::spray {

struct HeightRange {
    double lowest, highest;
};

[[nodiscard]] SurfaceSample surface_sample(const Cylinder& part, double x_mm, double y_mm) noexcept;
[[nodiscard]] SurfaceSample surface_sample(const Sphere& part, double x_mm, double y_mm) noexcept;
[[nodiscard]] SurfaceSample surface_sample(const Dome& part, double x_mm, double y_mm) noexcept;
[[nodiscard]] SurfaceSample surface_sample(const Bevel& part, double x_mm, double y_mm) noexcept;
[[nodiscard]] SurfaceSample surface_sample(const Groove& part, double x_mm, double y_mm) noexcept;
[[nodiscard]] SurfaceSample surface_sample(const HeightMap& part, double x_mm, double y_mm) noexcept;

[[nodiscard]] HeightRange height_range(const Cylinder& part, const Box& area) noexcept;
[[nodiscard]] HeightRange height_range(const Sphere& part, const Box& area) noexcept;
[[nodiscard]] HeightRange height_range(const Dome& part, const Box& area) noexcept;
[[nodiscard]] HeightRange height_range(const Bevel& part, const Box& area) noexcept;
[[nodiscard]] HeightRange height_range(const Groove& part, const Box& area) noexcept;
[[nodiscard]] HeightRange height_range(const HeightMap& part, const Box& area) noexcept;

// Checks the contracts of spray/relief.h.
void validate(const Cylinder& part);
void validate(const Sphere& part);
void validate(const Dome& part);
void validate(const Bevel& part);
void validate(const Groove& part);
void validate(const HeightMap& part);

}  // namespace fadewright::spray
