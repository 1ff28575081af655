#include "booth_passes.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

namespace fadewright::report {
namespace {

constexpr double kAlike_mm = 0.5, kAlikeSpeed = 0.5;

struct Way {
    spray::Point from, to;  // the lower, then the more left end first
    enum class Kind { level, upright, slanting, bent, still } kind = Kind::level;
};

Way way_of(const spray::Pass& pass) {
    Way way;
    if (pass.arc || pass.points.size() > 2) {
        way.kind = Way::Kind::bent;
        if (pass.arc) {
            way.from = way.to = pass.arc->centre;
        } else {
            way.from = pass.points.front();
            way.to = pass.points.back();
        }
        return way;
    }
    way.from = pass.points.front();
    way.to = pass.points.back();
    const double dx = std::abs((way.to.x - way.from.x).value), dy = std::abs((way.to.y - way.from.y).value);
    if (dx < kAlike_mm && dy < kAlike_mm) {
        way.kind = Way::Kind::still;
    } else if (dy < kAlike_mm) {
        way.kind = Way::Kind::level;
        if (way.to.x < way.from.x) std::swap(way.from, way.to);
    } else if (dx < kAlike_mm) {
        way.kind = Way::Kind::upright;
        if (way.to.y < way.from.y) std::swap(way.from, way.to);
    } else {
        way.kind = Way::Kind::slanting;
    }
    return way;
}

double shift(const Way& a, const Way& b) {
    return a.kind == Way::Kind::level ? (b.from.y - a.from.y).value : (b.from.x - a.from.x).value;
}

// Same length, same ends, only moved sideways.
bool alike(const spray::Pass& p, const spray::Pass& q) {
    const Way a = way_of(p), b = way_of(q);
    if (a.kind != b.kind || p.repeats != q.repeats) return false;
    if (std::abs((p.speed - q.speed).value) > kAlikeSpeed || !p.speeds.empty() || !q.speeds.empty())
        return false;
    const auto near = [](Millimetres m, Millimetres n) { return std::abs((m - n).value) < kAlike_mm; };
    if (a.kind == Way::Kind::level) return near(a.from.x, b.from.x) && near(a.to.x, b.to.x);
    if (a.kind == Way::Kind::upright) return near(a.from.y, b.from.y) && near(a.to.y, b.to.y);
    return false;
}

std::string place(const spray::Point& p, ShownUnits units) {
    return fmt::format("{}, {}", units.figure(p.x), units.figure(p.y));
}

// Distance from the panel's edge, outwards, if the pass keeps it.
std::optional<double> beside_edge(const spray::Pass& pass, const spray::Panel& panel) {
    if (pass.points.size() < 8) return std::nullopt;
    constexpr double kKept_mm = 2;
    double least = 0, most = 0;
    for (std::size_t i = 0; i < pass.points.size(); ++i) {
        const double d = panel.signed_distance_mm(pass.points[i].x.value, pass.points[i].y.value);
        least = i == 0 ? d : std::min(least, d);
        most = i == 0 ? d : std::max(most, d);
    }
    if (most - least > kKept_mm) return std::nullopt;
    return (least + most) / 2;
}

std::string where_alone(const spray::Pass& pass, const Way& way, const spray::Panel& panel,
                        ShownUnits units) {
    switch (way.kind) {
        case Way::Kind::level:
            return units.text(way.from.y) + " up";
        case Way::Kind::upright:
            return units.text(way.from.x) + " from the left";
        case Way::Kind::still:
            return "still at " + units.place(way.from.x, way.from.y);
        case Way::Kind::bent:
            if (pass.arc)
                return fmt::format("arc of {} round {}", units.text(pass.arc->radius),
                                   units.place(way.from.x, way.from.y));
            if (const auto from_edge = beside_edge(pass, panel))
                return std::abs(*from_edge) < 1
                           ? "along the edge"
                           : fmt::format("{} {} the edge", units.text(Millimetres{std::abs(*from_edge)}),
                                         *from_edge > 0 ? "outside" : "inside");
            if (place(way.from, units) == place(way.to, units)) return "all round, as drawn";
            return fmt::format("along the line, {} to {}", place(way.from, units),
                               units.place(way.to.x, way.to.y));
        case Way::Kind::slanting:
            break;
    }
    return fmt::format("from {} to {}", place(way.from, units), units.place(way.to.x, way.to.y));
}

std::string speed_of(const spray::Pass& pass, const Way& way, ShownUnits units) {
    if (way.kind == Way::Kind::still) return fmt::format("{:.1f} s", pass.dwell.value);
    if (pass.speeds.empty()) return units.text(pass.speed);
    const auto [slow, fast] = std::minmax_element(pass.speeds.begin(), pass.speeds.end());
    return units.range(*slow, *fast);
}

}  // namespace

std::vector<PassGroup> pass_groups(const plan::ReadyCoat& coat, const spray::Panel& panel, ShownUnits units) {
    std::vector<PassGroup> groups;
    const std::vector<spray::Pass>& passes = coat.passes;
    for (std::size_t i = 0; i < passes.size();) {
        const Way first = way_of(passes[i]);
        std::size_t last = i;
        double step = 0;
        while (last + 1 < passes.size() && alike(passes[last], passes[last + 1])) {
            const double next = shift(way_of(passes[last]), way_of(passes[last + 1]));
            if (last > i && std::abs(next - step) > kAlike_mm) break;
            step = next;
            ++last;
        }
        if (last == i + 1 && last + 1 < passes.size()) last = i;  // two by chance are no row
        PassGroup group;
        group.first = static_cast<int>(i) + 1;
        group.last = static_cast<int>(last) + 1;
        group.repeats = passes[i].repeats;
        group.speed = speed_of(passes[i], first, units);
        group.where = where_alone(passes[i], first, panel, units);
        if (last > i) {
            const Way end = way_of(passes[last]);
            const bool level = first.kind == Way::Kind::level;
            group.where = fmt::format(
                "{} {}",
                level ? units.range(first.from.y, end.from.y) : units.range(first.from.x, end.from.x),
                level ? "up" : "from the left");
            if (last > i + 1)
                group.where += fmt::format(", {} apart", units.text(Millimetres{std::abs(step)}));
        }
        groups.push_back(std::move(group));
        i = last + 1;
    }
    return groups;
}

std::string group_words(const PassGroup& group, std::string_view after_number) {
    std::string words = group.first == group.last ? fmt::format("{}", group.first)
                                                  : fmt::format("{} to {}", group.first, group.last);
    words += fmt::format("{}{}, {}", after_number, group.where, group.speed);
    if (group.repeats > 1) words += fmt::format(", {} times", group.repeats);
    return words;
}

}  // namespace fadewright::report
