#include "pass_groups.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

namespace fadewright::report {
namespace {

constexpr double kSamePosition_mm = 0.5, kSameSpeed_mm_per_s = 0.5;

struct PassGeometry {
    geometry::Point from, to;  // the lower, then the more left end first
    enum class Kind { horizontal, vertical, diagonal, curved, spot } kind = Kind::horizontal;
};

PassGeometry pass_geometry(const spray::Pass& pass) {
    PassGeometry geometry;
    if (pass.arc || pass.points.size() > 2) {
        geometry.kind = PassGeometry::Kind::curved;
        if (pass.arc) {
            geometry.from = geometry.to = pass.arc->centre;
        } else {
            geometry.from = pass.points.front();
            geometry.to = pass.points.back();
        }
        return geometry;
    }
    geometry.from = pass.points.front();
    geometry.to = pass.points.back();
    const double dx = std::abs((geometry.to.x - geometry.from.x).value),
                 dy = std::abs((geometry.to.y - geometry.from.y).value);
    if (dx < kSamePosition_mm && dy < kSamePosition_mm) {
        geometry.kind = PassGeometry::Kind::spot;
    } else if (dy < kSamePosition_mm) {
        geometry.kind = PassGeometry::Kind::horizontal;
        if (geometry.to.x < geometry.from.x) std::swap(geometry.from, geometry.to);
    } else if (dx < kSamePosition_mm) {
        geometry.kind = PassGeometry::Kind::vertical;
        if (geometry.to.y < geometry.from.y) std::swap(geometry.from, geometry.to);
    } else {
        geometry.kind = PassGeometry::Kind::diagonal;
    }
    return geometry;
}

double sideways_step(const PassGeometry& a, const PassGeometry& b) {
    return a.kind == PassGeometry::Kind::horizontal ? (b.from.y - a.from.y).value
                                                    : (b.from.x - a.from.x).value;
}

// Same length and ends, shifted sideways.
bool is_parallel_copy(const spray::Pass& p, const spray::Pass& q) {
    const PassGeometry a = pass_geometry(p), b = pass_geometry(q);
    if (a.kind != b.kind || p.repeats != q.repeats) return false;
    if (std::abs((p.speed - q.speed).value) > kSameSpeed_mm_per_s || !p.speeds.empty() || !q.speeds.empty())
        return false;
    const auto are_close = [](Millimetres m, Millimetres n) {
        return std::abs((m - n).value) < kSamePosition_mm;
    };
    if (a.kind == PassGeometry::Kind::horizontal)
        return are_close(a.from.x, b.from.x) && are_close(a.to.x, b.to.x);
    if (a.kind == PassGeometry::Kind::vertical)
        return are_close(a.from.y, b.from.y) && are_close(a.to.y, b.to.y);
    return false;
}

std::string point_label(const geometry::Point& p, DisplayUnits units) {
    return fmt::format("{}, {}", units.number(p.x), units.number(p.y));
}

// Distance from the panel's edge, positive outside, if it is constant along the pass.
std::optional<double> offset_from_edge(const spray::Pass& pass, const spray::Panel& panel) {
    if (pass.points.size() < 8) return std::nullopt;
    constexpr double kKept_mm = 2;
    double minimum = 0, maximum = 0;
    for (std::size_t i = 0; i < pass.points.size(); ++i) {
        const double d = panel.signed_distance_mm(pass.points[i].x.value, pass.points[i].y.value);
        minimum = i == 0 ? d : std::min(minimum, d);
        maximum = i == 0 ? d : std::max(maximum, d);
    }
    if (maximum - minimum > kKept_mm) return std::nullopt;
    return (minimum + maximum) / 2;
}

std::string position_label(const spray::Pass& pass, const PassGeometry& geometry, const spray::Panel& panel,
                           DisplayUnits units) {
    switch (geometry.kind) {
        case PassGeometry::Kind::horizontal:
            return units.text(geometry.from.y) + " up";
        case PassGeometry::Kind::vertical:
            return units.text(geometry.from.x) + " from the left";
        case PassGeometry::Kind::spot:
            return "spot at " + units.point_text(geometry.from.x, geometry.from.y);
        case PassGeometry::Kind::curved:
            if (pass.arc)
                return fmt::format("arc of {} round {}", units.text(pass.arc->radius),
                                   units.point_text(geometry.from.x, geometry.from.y));
            if (const auto from_edge = offset_from_edge(pass, panel))
                return std::abs(*from_edge) < 1
                           ? "along the edge"
                           : fmt::format("{} {} the edge", units.text(Millimetres{std::abs(*from_edge)}),
                                         *from_edge > 0 ? "outside" : "inside");
            if (point_label(geometry.from, units) == point_label(geometry.to, units))
                return "all round, as drawn";
            return fmt::format("along the line, {} to {}", point_label(geometry.from, units),
                               units.point_text(geometry.to.x, geometry.to.y));
        case PassGeometry::Kind::diagonal:
            break;
    }
    return fmt::format("from {} to {}", point_label(geometry.from, units),
                       units.point_text(geometry.to.x, geometry.to.y));
}

std::string speed_label(const spray::Pass& pass, const PassGeometry& geometry, DisplayUnits units) {
    if (geometry.kind == PassGeometry::Kind::spot) return fmt::format("{:.1f} s", pass.dwell.value);
    if (pass.speeds.empty()) return units.text(pass.speed);
    const auto [slow, fast] = std::minmax_element(pass.speeds.begin(), pass.speeds.end());
    return units.range(*slow, *fast);
}

}  // namespace

std::vector<PassGroup> pass_groups(const plan::ResolvedCoat& coat, const spray::Panel& panel,
                                   DisplayUnits units) {
    std::vector<PassGroup> groups;
    const std::vector<spray::Pass>& passes = coat.passes;
    for (std::size_t i = 0; i < passes.size();) {
        const PassGeometry first = pass_geometry(passes[i]);
        std::size_t last = i;
        double step = 0;
        while (last + 1 < passes.size() && is_parallel_copy(passes[last], passes[last + 1])) {
            const double next = sideways_step(pass_geometry(passes[last]), pass_geometry(passes[last + 1]));
            if (last > i && std::abs(next - step) > kSamePosition_mm) break;
            step = next;
            ++last;
        }
        if (last == i + 1 && last + 1 < passes.size()) last = i;  // two are not a row
        PassGroup group;
        group.first = static_cast<int>(i) + 1;
        group.last = static_cast<int>(last) + 1;
        group.repeats = passes[i].repeats;
        group.speed = speed_label(passes[i], first, units);
        group.position = position_label(passes[i], first, panel, units);
        if (last > i) {
            const PassGeometry end = pass_geometry(passes[last]);
            const bool level = first.kind == PassGeometry::Kind::horizontal;
            group.position = fmt::format(
                "{} {}",
                level ? units.range(first.from.y, end.from.y) : units.range(first.from.x, end.from.x),
                level ? "up" : "from the left");
            if (last > i + 1)
                group.position += fmt::format(", {} apart", units.text(Millimetres{std::abs(step)}));
        }
        groups.push_back(std::move(group));
        i = last + 1;
    }
    return groups;
}

std::string pass_group_text(const PassGroup& group, std::string_view separator) {
    std::string text = group.first == group.last ? fmt::format("{}", group.first)
                                                 : fmt::format("{} to {}", group.first, group.last);
    text += fmt::format("{}{}, {}", separator, group.position, group.speed);
    if (group.repeats > 1) text += fmt::format(", {} times", group.repeats);
    return text;
}

}  // namespace fadewright::report
