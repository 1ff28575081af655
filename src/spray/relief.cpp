#include "fadewright/spray/relief.h"

#include "edge_bvh.h"
#include "relief_parts.h"

#include <cmath>

namespace fadewright::spray {

PolylineSet::PolylineSet(std::vector<Ring> open_lines)
    : polylines_(std::make_shared<const std::vector<Ring>>(std::move(open_lines))),
      tree_(std::make_shared<const EdgeBvh>(*polylines_, LineEnds::open)) {}

PolylineSet::PolylineSet(const Outline& outline) {
    std::vector<Ring> rings = outline.rings();
    for (Ring& ring : rings) ring.push_back(ring.front());
    *this = PolylineSet(std::move(rings));
}

DistanceGradient PolylineSet::distance_gradient(double x_mm, double y_mm,
                                                double max_distance_mm) const noexcept {
    const EdgeBvh::Nearest nearest = tree_->nearest(x_mm, y_mm, max_distance_mm);
    const double distance = std::sqrt(nearest.squared_mm2);
    if (!(distance > 0) || std::isinf(distance)) return {distance, 0, 0};
    return {distance, (x_mm - nearest.x_mm) / distance, (y_mm - nearest.y_mm) / distance};
}

Relief::Relief(std::vector<ReliefPart> parts, Box area) : parts_(std::move(parts)) {
    for (const ReliefPart& part : parts_) {
        std::visit([](const auto& p) { validate(p); }, part);
        const HeightRange heights = std::visit([&](const auto& p) { return height_range(p, area); }, part);
        lowest_ += heights.lowest;
        highest_ += heights.highest;
    }
}

SurfaceSample Relief::at(double x_mm, double y_mm) const noexcept {
    SurfaceSample sum;
    for (const ReliefPart& part : parts_) {
        const SurfaceSample sample =
            std::visit([&](const auto& p) { return surface_sample(p, x_mm, y_mm); }, part);
        sum.height_mm += sample.height_mm;
        sum.dz_dx += sample.dz_dx;
        sum.dz_dy += sample.dz_dy;
        sum.no_surface |= sample.no_surface;
    }
    return sum;
}

// Half the divergence of the unit normal, towards the gun.
double Relief::curvature(double x_mm, double y_mm, double step_mm) const noexcept {
    if (flat()) return 0;
    struct NormalXY {
        double x, y;
    };
    const auto normal_at = [this](double x, double y) {
        const SurfaceSample s = at(x, y);
        const double length = std::sqrt(1 + s.dz_dx * s.dz_dx + s.dz_dy * s.dz_dy);
        return NormalXY{-s.dz_dx / length, -s.dz_dy / length};
    };
    const double dx = normal_at(x_mm + step_mm, y_mm).x - normal_at(x_mm - step_mm, y_mm).x;
    const double dy = normal_at(x_mm, y_mm + step_mm).y - normal_at(x_mm, y_mm - step_mm).y;
    return (dx + dy) / (4 * step_mm);
}

}  // namespace fadewright::spray
