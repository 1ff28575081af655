#include "fadewright/spray/panel.h"

#include "fadewright/base/parallel.h"
#include "quadrature.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace fadewright::spray {
namespace {

double radius_mm(const Panel& panel) noexcept {
    return std::clamp(panel.corner_radius.value, 0.0, std::min(panel.width.value, panel.height.value) / 2);
}

// Inset of the outline from the left and right edges on the row y.
double inset_mm(const Panel& panel, double y) noexcept {
    const double r = radius_mm(panel);
    const double into_corner = std::max(r - y, y - (panel.height.value - r));
    if (into_corner <= 0) return 0;
    return r - std::sqrt(std::max(0.0, r * r - into_corner * into_corner));
}

bool box_is_inside(const Panel& panel, const geometry::Box& box) noexcept {
    return panel.inside(box.x0, box.y0) && panel.inside(box.x1, box.y0) && panel.inside(box.x0, box.y1) &&
           panel.inside(box.x1, box.y1);
}

double landed_mm3(const PassSegment& s) noexcept { return s.length_mm * (s.w_start + s.w_end) / 2; }

double piece_mm(const Footprint& footprint, double scale) noexcept {
    struct Visitor {
        double operator()(const RoundFootprint& f) const { return f.reach_across_mm() / kRoundReach; }
        double operator()(const FanFootprint& f) const {
            return std::min(f.reach_across_mm(), f.reach_along_mm()) / 3;
        }
        double operator()(const MeasuredFootprint& f) const {
            return std::min(f.reach_across_mm(), f.reach_along_mm()) / 3;
        }
    };
    return scale * std::visit(Visitor{}, footprint);
}

// Paint of one segment on a flat rectangle, by rows. Rows are divided where the corners begin.
double landed_mm3(const Deposit& deposit, const PassSegment& segment, const Panel& panel) {
    const Footprint& footprint = deposit.footprint();
    const geometry::Box box = reach(footprint, deposit.distance_mm(), segment);
    if (box_is_inside(panel, box)) return landed_mm3(segment);
    const double W = panel.width.value;
    const double H = panel.height.value;
    const double r = radius_mm(panel);
    const double cell = piece_mm(footprint, segment.scale);
    const double low = std::clamp(box.y0, 0.0, H);
    const double high = std::clamp(box.y1, 0.0, H);
    const std::array<double, 4> cuts{low, std::clamp(r, low, high), std::clamp(H - r, low, high), high};
    std::vector<QuadratureNode> rows, nodes_across;
    double sum_um = 0;
    for (std::size_t i = 1; i < cuts.size(); ++i) {
        sine_mapped_nodes(cuts[i - 1], cuts[i], cell, rows);
        for (const QuadratureNode& row : rows) {
            const double inset = inset_mm(panel, row.position);
            const geometry::Interval interval =
                row_reach(footprint, deposit.distance_mm(), segment, row.position);
            sine_mapped_nodes(std::max(inset, interval.from), std::min(W - inset, interval.to), cell,
                              nodes_across);
            double row_um = 0;
            std::visit(
                [&](const auto& f) {
                    for (const QuadratureNode& p : nodes_across)
                        row_um +=
                            p.weight * wet_um(f, segment, deposit.distance_mm(), p.position, row.position);
                },
                footprint);
            sum_um += row.weight * row_um;
        }
    }
    return sum_um / kMicrometresPerMillimetre;
}

double landed_on_rectangle_mm3(const Deposit& deposit, const Panel& panel) {
    const std::vector<PassSegment>& segments = deposit.segments();
    std::vector<double> landed(segments.size());
    parallel_for(segments.size(),
                 [&](std::size_t i) { landed[i] = landed_mm3(deposit, segments[i], panel); });
    double sum = 0;
    for (const double mm3 : landed) sum += mm3;
    return sum;
}

// Intervals of the row on the panel.
std::vector<geometry::Interval> row_intervals(const Panel& panel, double y) {
    if (panel.outline) return panel.outline->row_intervals(y);
    const double inset = inset_mm(panel, y);
    return {{inset, panel.width.value - inset}};
}

}  // namespace

bool Panel::inside(double x_mm, double y_mm) const noexcept { return signed_distance_mm(x_mm, y_mm) <= 0; }

double Panel::signed_distance_mm(double x_mm, double y_mm) const noexcept {
    if (outline) return outline->signed_distance_mm(x_mm, y_mm);
    // From the centre, folded into one quarter, measured against the square corner of the inner rectangle.
    const double r = radius_mm(*this);
    const double qx = std::abs(x_mm - width.value / 2) - (width.value / 2 - r);
    const double qy = std::abs(y_mm - height.value / 2) - (height.value / 2 - r);
    const double outside = std::hypot(std::max(qx, 0.0), std::max(qy, 0.0));
    return outside + std::min(std::max(qx, qy), 0.0) - r;
}

double Panel::area_m2() const noexcept {
    if (outline) return outline->area_m2();
    const double r = radius_mm(*this);
    const double corners = (4 - std::numbers::pi) * r * r;
    return (width.value * height.value - corners) / kSquareMillimetresPerSquareMetre;
}

double Panel::surface_m2() const {
    if (!relief || relief->flat()) return area_m2();
    const double step = std::min(width.value, height.value) / 100;
    return integrate_over(*this, step,
                          [](std::span<const double>, double, std::span<double> out) {
                              std::fill(out.begin(), out.end(), 1.0);
                          }) /
           kSquareMillimetresPerSquareMetre;
}

SurfaceSample Panel::surface(double x_mm, double y_mm) const noexcept {
    return relief ? relief->at(x_mm, y_mm) : SurfaceSample{};
}

geometry::Outline Panel::outline_or_rectangle() const {
    return outline ? *outline : geometry::Outline::rectangle(width, height, corner_radius);
}

double integrate_over(const Panel& panel, double step_mm, const RowFunction& row) {
    const double H = panel.height.value;
    std::vector<QuadratureNode> rows, piece_nodes;
    if (panel.outline) {  // its corners may be anywhere: many equal rows
        constexpr int min_rows = 800;
        const int count = std::max(min_rows, static_cast<int>(std::ceil(6 * H / step_mm)));
        for (int i = 0; i < count; ++i) rows.push_back({H * (i + 0.5) / count, H / count});
    } else {
        const double r = radius_mm(panel);
        const std::array<double, 4> cuts{0, r, H - r, H};
        for (std::size_t i = 1; i < cuts.size(); ++i) {
            sine_mapped_nodes(cuts[i - 1], cuts[i], step_mm, piece_nodes);
            rows.insert(rows.end(), piece_nodes.begin(), piece_nodes.end());
        }
    }
    std::vector<double> sums(rows.size());
    parallel_for(rows.size(), [&](std::size_t i) {
        const double y = rows[i].position;
        std::vector<QuadratureNode> nodes, interval_nodes;
        for (const geometry::Interval& stretch : row_intervals(panel, y)) {
            sine_mapped_nodes(stretch.from, stretch.to, step_mm, interval_nodes);
            nodes.insert(nodes.end(), interval_nodes.begin(), interval_nodes.end());
        }
        std::vector<double> x(nodes.size()), values(nodes.size());
        for (std::size_t k = 0; k < nodes.size(); ++k) x[k] = nodes[k].position;
        row(x, y, values);
        for (std::size_t k = 0; k < nodes.size(); ++k) {
            const SurfaceSample s = panel.surface(x[k], y);
            const double steep = std::sqrt(1 + s.dz_dx * s.dz_dx + s.dz_dy * s.dz_dy);
            sums[i] += nodes[k].weight * steep * values[k];
        }
        sums[i] *= rows[i].weight;
    });
    double sum = 0;
    for (const double s : sums) sum += s;
    return sum;
}

Millilitres landed_volume(const Deposit& deposit, const Panel& panel) {
    constexpr double mm3_per_mL = 1000;
    if (!panel.outline && deposit.puffs().empty())
        return Millilitres{landed_on_rectangle_mm3(deposit, panel) / mm3_per_mL};
    const double um_mm2 = integrate_over(panel, deposit.min_feature_mm(),
                                         [&](auto x, double y, auto out) { deposit.add_wet_um(x, y, out); });
    return Millilitres{um_mm2 / kMicrometresPerMillimetre / mm3_per_mL};
}

Millilitres paint_in_film(Micrometres film, double area_m2) noexcept {
    return Millilitres{film.value * area_m2};
}

double area_covered_m2(Millilitres paint, Micrometres film) noexcept { return paint.value / film.value; }

}  // namespace fadewright::spray
