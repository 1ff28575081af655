#include "fadewright/spray/relief.h"

#include "edge_tree.h"
#include "relief_parts.h"

#include <cmath>

namespace fadewright::spray {

Lines::Lines(std::vector<Ring> open_lines)
    : corners_(std::make_shared<const std::vector<Ring>>(std::move(open_lines))),
      tree_(std::make_shared<const EdgeTree>(*corners_, Ends::open)) {}

Lines::Lines(const Outline& outline) {
    std::vector<Ring> rings = outline.rings();
    for (Ring& ring : rings) ring.push_back(ring.front());
    *this = Lines(std::move(rings));
}

Away Lines::away(double x_mm, double y_mm, double within_mm) const noexcept {
    const EdgeTree::Nearest nearest = tree_->nearest(x_mm, y_mm, within_mm);
    const double distance = std::sqrt(nearest.squared_mm2);
    if (!(distance > 0) || std::isinf(distance)) return {distance, 0, 0};
    return {distance, (x_mm - nearest.x_mm) / distance, (y_mm - nearest.y_mm) / distance};
}

Relief::Relief(std::vector<ReliefPart> parts, Box over) : parts_(std::move(parts)) {
    for (const ReliefPart& part : parts_) {
        std::visit([](const auto& p) { expect_sound(p); }, part);
        const Heights heights = std::visit([&](const auto& p) { return heights_of(p, over); }, part);
        lowest_ += heights.lowest;
        highest_ += heights.highest;
    }
}

Slope Relief::at(double x_mm, double y_mm) const noexcept {
    Slope sum;
    for (const ReliefPart& part : parts_) {
        const Slope one = std::visit([&](const auto& p) { return slope_of(p, x_mm, y_mm); }, part);
        sum.height_mm += one.height_mm;
        sum.dz_dx += one.dz_dx;
        sum.dz_dy += one.dz_dy;
        sum.ends |= one.ends;
    }
    return sum;
}

// Half the divergence of the unit normal, towards the gun.
double Relief::curvature(double x_mm, double y_mm, double over_mm) const noexcept {
    if (flat()) return 0;
    struct Lean {
        double x, y;
    };
    const auto lean = [this](double x, double y) {
        const Slope s = at(x, y);
        const double length = std::sqrt(1 + s.dz_dx * s.dz_dx + s.dz_dy * s.dz_dy);
        return Lean{-s.dz_dx / length, -s.dz_dy / length};
    };
    const double dx = lean(x_mm + over_mm, y_mm).x - lean(x_mm - over_mm, y_mm).x;
    const double dy = lean(x_mm, y_mm + over_mm).y - lean(x_mm, y_mm - over_mm).y;
    return (dx + dy) / (4 * over_mm);
}

}  // namespace fadewright::spray
