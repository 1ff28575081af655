#include "fadewright/spray/outline.h"

#include <algorithm>
#include <cmath>

namespace fadewright::spray {
namespace {

constexpr double kStepsOnLongestSide = 2000;
constexpr double kMinStep_mm = 0.005;
constexpr double kSimplifyTolerance = 1.0 / 16;  // of a step
constexpr int kMaxRootSteps = 60;

// Positions of the grid nodes.
struct OffsetGrid {
    double x0, y0, step;
    [[nodiscard]] PlanePoint at(double column, double row) const noexcept {
        return {x0 + column * step, y0 + row * step};
    }
};

// Fills the nodes from column c0 to c1 and row r0 to r1 (both included). The distance changes by no more than
// the path length, so that whole blocks far from the line are decided by their centre.
void fill_inside(const Outline& outline, double offset, const OffsetGrid& positions, GridNode from,
                 GridNode to, GridNodes& grid) {
    if (from.column > to.column || from.row > to.row) return;
    const PlanePoint middle = positions.at((from.column + to.column) / 2.0, (from.row + to.row) / 2.0);
    const double excess = outline.signed_distance_mm(middle.x_mm, middle.y_mm) - offset;
    const double reach = positions.step * std::hypot(to.column - from.column, to.row - from.row) / 2;
    const bool single = from.column == to.column && from.row == to.row;
    if (single || std::abs(excess) > reach * (1 + 1e-9)) {
        if (excess >= 0) return;
        for (int row = from.row; row <= to.row; ++row)
            std::fill_n(grid.inside.begin() + static_cast<std::ptrdiff_t>(grid.index(from.column, row)),
                        to.column - from.column + 1, std::uint8_t{1});
        return;
    }
    const GridNode half{(from.column + to.column) / 2, (from.row + to.row) / 2};
    fill_inside(outline, offset, positions, from, half, grid);
    fill_inside(outline, offset, positions, {half.column + 1, from.row}, {to.column, half.row}, grid);
    fill_inside(outline, offset, positions, {from.column, half.row + 1}, {half.column, to.row}, grid);
    fill_inside(outline, offset, positions, {half.column + 1, half.row + 1}, to, grid);
}

// The root between two points, the first nearer than the offset, by regula falsi with the Illinois rule.
PlanePoint root_between(const Outline& outline, double offset, PlanePoint in, PlanePoint out) {
    double f_in = outline.signed_distance_mm(in.x_mm, in.y_mm) - offset;
    double f_out = outline.signed_distance_mm(out.x_mm, out.y_mm) - offset;
    PlanePoint at = out;
    int run = 0;  // times in a row that the same end has moved: positive for the inner one
    for (int i = 0; i < kMaxRootSteps && f_out != f_in; ++i) {
        const double t = f_in / (f_in - f_out);
        at = {in.x_mm + t * (out.x_mm - in.x_mm), in.y_mm + t * (out.y_mm - in.y_mm)};
        const double f = outline.signed_distance_mm(at.x_mm, at.y_mm) - offset;
        if (std::abs(f) < kOffsetAccuracy_mm / 2) break;
        if (f < 0) {
            in = at;
            f_in = f;
            run = std::max(run, 0) + 1;
            if (run > 1) f_out /= 2;
        } else {
            out = at;
            f_out = f;
            run = std::min(run, 0) - 1;
            if (run < -1) f_in /= 2;
        }
    }
    return at;
}

}  // namespace

Millimetres Outline::offset_step(Millimetres offset) const noexcept {
    const double grown = 2 * std::max(offset.value, 0.0);
    const double longest = std::max(bounds_.x1 - bounds_.x0, bounds_.y1 - bounds_.y0) + grown;
    return Millimetres{std::max(longest / kStepsOnLongestSide, kMinStep_mm)};
}

std::vector<Ring> Outline::offset_rings(Millimetres offset) const {
    if (empty()) return {};
    const double step = offset_step(offset).value;
    // Whole and half steps would coincide with the edges of many shapes; the margin avoids that.
    const double margin = std::max(offset.value, 0.0) + 2.37 * step;
    const OffsetGrid positions{bounds_.x0 - margin, bounds_.y0 - margin, step};
    const auto nodes = [&](double length) {
        return static_cast<int>(std::ceil((length + 2 * margin) / step)) + 1;
    };
    GridNodes grid(nodes(bounds_.x1 - bounds_.x0), nodes(bounds_.y1 - bounds_.y0));
    fill_inside(*this, offset.value, positions, {0, 0}, {grid.columns - 1, grid.rows - 1}, grid);
    const Crossings crossings{[&](GridNode in, GridNode out) {
                                  return root_between(*this, offset.value, positions.at(in.column, in.row),
                                                      positions.at(out.column, out.row));
                              },
                              [&](GridNode lower_left) {
                                  const PlanePoint middle =
                                      positions.at(lower_left.column + 0.5, lower_left.row + 0.5);
                                  return signed_distance_mm(middle.x_mm, middle.y_mm) < offset.value;
                              }};
    std::vector<Ring> rings;
    for (const Ring& ring : contours(grid, crossings)) {
        Ring simplified = simplify(ring, kSimplifyTolerance * step);
        if (simplified.size() >= 3) rings.push_back(std::move(simplified));
    }
    return rings;
}

}  // namespace fadewright::spray
