#include "fadewright/spray/puff.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace fadewright::spray {
namespace {

struct Axes {
    double axis[3], across[3], along[3];
};

// Square: the axis down, across to the left of the travel. Heel tilts the axis to the left, lead forward.
Axes axes_of(double dx, double dy, double heel, double lead) noexcept {
    const double left[3] = {-dy, dx, 0}, ahead[3] = {dx, dy, 0}, down[3] = {0, 0, -1};
    Axes a{};
    for (int i = 0; i < 3; ++i) {
        const double leading = std::cos(lead) * down[i] + std::sin(lead) * ahead[i];
        a.along[i] = std::cos(lead) * ahead[i] - std::sin(lead) * down[i];
        a.axis[i] = std::cos(heel) * leading + std::sin(heel) * left[i];
        a.across[i] = std::cos(heel) * left[i] - std::sin(heel) * leading;
    }
    return a;
}

Puff puff_at(double x, double y, const Axes& axes, double nozzle_mm, double landed_mm3) noexcept {
    Puff p{};
    const double aim[3] = {x, y, 0};
    for (int i = 0; i < 3; ++i) {
        p.nozzle[i] = aim[i] - nozzle_mm * axes.axis[i];
        p.axis[i] = axes.axis[i];
        p.across[i] = axes.across[i];
        p.along[i] = axes.along[i];
    }
    p.landed_mm3 = landed_mm3;
    return p;
}

// The longest piece of travel that two puffs, at Gauss-Legendre nodes, represent accurately.
double piece_mm(const Footprint& footprint) noexcept {
    struct Visitor {
        double operator()(const RoundFootprint& f) const { return 1.2 * f.reach_along_mm() / kRoundReach; }
        double operator()(const FanFootprint& f) const { return f.reach_along_mm() / 6; }
        double operator()(const MeasuredFootprint& f) const { return f.reach_along_mm() / 6; }
    };
    return std::visit(Visitor{}, footprint);
}

}  // namespace

Puff puff_of(const Spot& spot, double distance_mm) {
    return puff_at(spot.x_mm, spot.y_mm, axes_of(spot.dx, spot.dy, spot.heel_rad, spot.lead_rad),
                   distance_mm * spot.scale, spot.landed_mm3);
}

void add_puffs(const PassSegment& s, const Footprint& footprint, double distance_mm,
               std::vector<Puff>& puffs) {
    constexpr double node = 0.5 * 0.57735026918962576;  // of a piece, from its centre
    const Axes axes = axes_of(s.dx, s.dy, s.heel_rad, s.lead_rad);
    const double longest = s.scale * piece_mm(footprint);
    const int count = std::max(1, static_cast<int>(std::ceil(s.length_mm / longest)));
    const double piece = s.length_mm / count;
    const auto add = [&](double at, double share) {
        const double w = s.w_start + (s.w_end - s.w_start) * at / s.length_mm;
        if (w > 0)
            puffs.push_back(puff_at(s.x_mm + at * s.dx, s.y_mm + at * s.dy, axes, distance_mm * s.scale,
                                    w * share * piece));
    };
    for (int i = 0; i < count; ++i) {
        const double middle = piece * (i + 0.5);
        if (piece < longest / 4) {  // one of many pieces on a bend
            add(middle, 1);
            continue;
        }
        add(middle - node * piece, 0.5);
        add(middle + node * piece, 0.5);
    }
}

// The rays at the corners of the footprint's rectangle, between the lowest and the highest surface.
geometry::Box reach(const Footprint& footprint, double distance_mm, const Puff& p, double lowest_mm,
                    double highest_mm) noexcept {
    constexpr double infinity = std::numeric_limits<double>::infinity();
    constexpr double slack_mm = 1e-6;
    const double across =
        std::visit([](const auto& f) { return f.reach_across_mm(); }, footprint) / distance_mm;
    const double along =
        std::visit([](const auto& f) { return f.reach_along_mm(); }, footprint) / distance_mm;
    geometry::Box box{infinity, infinity, -infinity, -infinity};
    for (const double a : {-across, across})
        for (const double b : {-along, along}) {
            double ray[3];
            for (int i = 0; i < 3; ++i) ray[i] = p.axis[i] + a * p.across[i] + b * p.along[i];
            if (ray[2] >= 0) return {-infinity, -infinity, infinity, infinity};  // above the horizon
            for (const double z : {lowest_mm, highest_mm}) {
                const double t = std::max(0.0, (z - p.nozzle[2]) / ray[2]);
                const double x = p.nozzle[0] + t * ray[0], y = p.nozzle[1] + t * ray[1];
                box = {std::min(box.x0, x - slack_mm), std::min(box.y0, y - slack_mm),
                       std::max(box.x1, x + slack_mm), std::max(box.y1, y + slack_mm)};
            }
        }
    return box;
}

}  // namespace fadewright::spray
