#include "fadewright/spray/panel.h"

#include "fadewright/base/parallel.h"
#include "quadrature.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace fadewright::spray {
namespace {

constexpr double kSquareMillimetresPerSquareMetre = 1e6;

double radius_mm(const Panel& panel) noexcept {
    return std::clamp(panel.corner_radius.value, 0.0, std::min(panel.width.value, panel.height.value) / 2);
}

// How far the outline stands in from the left and right edges on the row y.
double inset_mm(const Panel& panel, double y) noexcept {
    const double r = radius_mm(panel);
    const double into_corner = std::max(r - y, y - (panel.height.value - r));
    if (into_corner <= 0) return 0;
    return r - std::sqrt(std::max(0.0, r * r - into_corner * into_corner));
}

bool wholly_inside(const Panel& panel, const Box& box) noexcept {
    return panel.inside(box.x0, box.y0) && panel.inside(box.x1, box.y0) && panel.inside(box.x0, box.y1) &&
           panel.inside(box.x1, box.y1);
}

double landed_mm3(const Stroke& s) noexcept { return s.length_mm * (s.w_start + s.w_end) / 2; }
double landed_mm3(const Burst& b) noexcept { return b.landed_mm3; }

double piece_mm(const Footprint& footprint, double scale) noexcept {
    struct Visitor {
        double operator()(const RoundFootprint& f) const { return f.reach_across_mm() / kRoundReach; }
        double operator()(const FanFootprint& f) const {
            return std::min(f.reach_across_mm(), f.reach_along_mm()) / 3;
        }
    };
    return scale * std::visit(Visitor{}, footprint);
}

// Paint of one stroke or burst on the panel, by rows. Rows are cut where the corners begin.
template <class Piece>
double landed_mm3(const Footprint& footprint, const Piece& piece, const Panel& panel) {
    const Box box = reach(footprint, piece);
    if (wholly_inside(panel, box)) return landed_mm3(piece);
    const double W = panel.width.value;
    const double H = panel.height.value;
    const double r = radius_mm(panel);
    const double cell = piece_mm(footprint, piece.scale);
    const double low = std::clamp(box.y0, 0.0, H);
    const double high = std::clamp(box.y1, 0.0, H);
    const std::array<double, 4> cuts{low, std::clamp(r, low, high), std::clamp(H - r, low, high), high};
    std::vector<Node> rows, places;
    double sum_um = 0;
    for (std::size_t i = 1; i < cuts.size(); ++i) {
        steep_ended_nodes(cuts[i - 1], cuts[i], cell, rows);
        for (const Node& row : rows) {
            const double inset = inset_mm(panel, row.at);
            const Interval reached = row_reach(footprint, piece, row.at);
            steep_ended_nodes(std::max(inset, reached.from), std::min(W - inset, reached.to), cell, places);
            double row_um = 0;
            std::visit(
                [&](const auto& f) {
                    for (const Node& p : places) row_um += p.weight * wet_um(f, piece, p.at, row.at);
                },
                footprint);
            sum_um += row.weight * row_um;
        }
    }
    return sum_um / kMicrometresPerMillimetre;
}

template <class Piece>
double sum_landed_mm3(const Footprint& footprint, const std::vector<Piece>& pieces, const Panel& panel) {
    std::vector<double> landed(pieces.size());
    for_each_index(pieces.size(),
                   [&](std::size_t i) { landed[i] = landed_mm3(footprint, pieces[i], panel); });
    double sum = 0;
    for (const double mm3 : landed) sum += mm3;
    return sum;
}

}  // namespace

bool Panel::inside(double x_mm, double y_mm) const noexcept { return signed_distance_mm(x_mm, y_mm) <= 0; }

double Panel::signed_distance_mm(double x_mm, double y_mm) const noexcept {
    // From the centre, folded into one quarter, measured against the square corner of the inner rectangle.
    const double r = radius_mm(*this);
    const double qx = std::abs(x_mm - width.value / 2) - (width.value / 2 - r);
    const double qy = std::abs(y_mm - height.value / 2) - (height.value / 2 - r);
    const double outside = std::hypot(std::max(qx, 0.0), std::max(qy, 0.0));
    return outside + std::min(std::max(qx, qy), 0.0) - r;
}

double Panel::area_m2() const noexcept {
    const double r = radius_mm(*this);
    const double corners = (4 - std::numbers::pi) * r * r;
    return (width.value * height.value - corners) / kSquareMillimetresPerSquareMetre;
}

Millilitres landed_on(const Deposit& deposit, const Panel& panel) {
    constexpr double mm3_per_mL = 1000;
    const double mm3 = sum_landed_mm3(deposit.footprint(), deposit.strokes(), panel) +
                       sum_landed_mm3(deposit.footprint(), deposit.bursts(), panel);
    return Millilitres{mm3 / mm3_per_mL};
}

Millilitres paint_in_film(Micrometres film, double area_m2) noexcept {
    return Millilitres{film.value * area_m2};
}

double area_covered_m2(Millilitres paint, Micrometres film) noexcept { return paint.value / film.value; }

}  // namespace fadewright::spray
