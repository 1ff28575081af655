#include "fadewright/plan/spray_passes.h"

#include "fadewright/geometry/polyline.h"
#include "fadewright/spray/gun.h"

#include <fmt/core.h>

#include <algorithm>
#include <utility>

namespace fadewright::plan {
namespace {

// Tolerance of the simplification of offset lines.
constexpr double kOutlinePassTolerance_mm = 0.1;

geometry::Point to_spray(const Point& p) { return {p.x, p.y}; }

void copy_motion(const GunMotion& hand, const MovementDefaults& defaults, spray::GunMotion& out) {
    out.speed = hand.speed ? *hand.speed : defaults.coat->speed.value_or(defaults.speed);
    out.speeds = hand.speeds;
    out.distance = hand.distance ? hand.distance : defaults.coat->distance;
    out.distances = hand.distances;
    out.arc_radius = hand.arc_radius;
    out.heel_angle = hand.heel_angle;
    out.lead_angle = hand.lead_angle;
    out.run_up = hand.run_up;
    out.run_down = hand.run_down;
    out.repeats = hand.repeats;
    out.feather_on = hand.feather_on;
    out.feather_off = hand.feather_off;
    out.overrun = hand.overrun;
    out.trigger_on = hand.trigger_on;
    out.trigger_off = hand.trigger_off;
}

// Values given at the points of a path, linear in path length between them, at a place counted in points.
template <class Quantity>
Quantity value_at(const std::vector<Quantity>& values, double place) {
    const std::size_t i = std::min(static_cast<std::size_t>(place), values.size() - 2);
    return values[i] + (place - static_cast<double>(i)) * (values[i + 1] - values[i]);
}

bool is_moving(const Pass& pass) {
    return pass.arc || std::any_of(pass.path.begin(), pass.path.end(),
                                   [&](const Point& p) { return p != pass.path.front(); });
}

}  // namespace

spray::Gun gun_as_set(const Coat& coat, spray::Gun gun) {
    if (coat.flow) gun.flow = *coat.flow;
    if (coat.needle_opening || coat.air) gun = spray::with_settings(gun, {coat.needle_opening, coat.air});
    return gun;
}

spray::Pass to_spray(const Pass& pass, const MovementDefaults& defaults) {
    spray::Pass out;
    copy_motion(pass, defaults, out);
    for (const Point& p : pass.path) out.points.push_back(to_spray(p));
    out.smooth = pass.smooth;
    if (pass.arc)
        out.arc = geometry::Arc{to_spray(pass.arc->centre), pass.arc->radius, pass.arc->from, pass.arc->to};
    out.dwell = pass.dwell.value_or(Seconds{0.0});
    out.fan_angle = pass.fan_angle;
    return out;
}

spray::Sweep to_spray(const Sweep& sweep, const MovementDefaults& defaults) {
    spray::Sweep out;
    copy_motion(sweep, defaults, out);
    out.from = to_spray(sweep.from);
    out.to = to_spray(sweep.to);
    out.overlap = sweep.overlap;
    out.direction = sweep.direction;
    out.cross = sweep.cross;
    out.offset = sweep.offset;
    return out;
}

std::vector<spray::Pass> trace_outline_pass(const OutlinePass& outline_pass, const geometry::Outline& outline,
                                            const MovementDefaults& defaults) {
    std::vector<spray::Pass> passes;
    const std::vector<geometry::Ring> rings =
        outline_pass.offset.value == 0 ? outline.rings() : outline.offset_rings(outline_pass.offset);
    for (const geometry::Ring& ring : rings) {
        spray::Pass pass;
        copy_motion(outline_pass, defaults, pass);
        for (const geometry::PlanePoint& c : geometry::simplify(ring, kOutlinePassTolerance_mm))
            pass.points.push_back({Millimetres{c.x_mm}, Millimetres{c.y_mm}});
        if (geometry::signed_area_mm2(ring) < 0) std::reverse(pass.points.begin(), pass.points.end());
        pass.points.push_back(pass.points.front());
        passes.push_back(std::move(pass));
    }
    return passes;
}

std::vector<spray::Pass> trace_outline_pass(const OutlinePass& outline_pass,
                                            const MovementDefaults& defaults) {
    spray::Pass whole;
    copy_motion(outline_pass, defaults, whole);
    for (const Point& p : outline_pass.path) whole.points.push_back(to_spray(p));
    whole.smooth = outline_pass.smooth;
    if (outline_pass.offset.value == 0) return {whole};
    std::vector<spray::Pass> passes;
    for (geometry::OffsetPolyline& part :
         geometry::offset_polyline(outline_pass.smooth ? geometry::smooth_polyline(whole.points)
                                                       : geometry::straight_polyline(whole.points),
                                   outline_pass.offset)) {
        spray::Pass& pass = passes.emplace_back(whole);
        pass.smooth = false;
        pass.points = std::move(part.points);
        const auto at_points = [&](auto& values) {
            if (values.empty()) return;
            const auto given = std::exchange(values, {});
            for (const double place : part.corner) values.push_back(value_at(given, place));
        };
        at_points(pass.speeds);
        at_points(pass.distances);
    }
    return passes;
}

void check_movement(const Pass& pass, Diagnostics& diagnostics) {
    if (pass.path.empty() != pass.arc.has_value()) {
        diagnostics.error("P024", pass.span,
                          pass.arc ? "the pass has a path and an arc" : "the pass has no path",
                          "give either a path or an arc");
        return;
    }
    if (is_moving(pass) == pass.dwell.has_value())
        diagnostics.error("P008", pass.span,
                          pass.dwell ? "the pass moves, so it cannot dwell" : "the pass does not move",
                          "give two different points, or one point and  dwell = \"1 s\"");
    check_motion(pass, pass.arc ? 2 : distinct_point_count(pass.path), pass.span, diagnostics);
}

std::size_t distinct_point_count(const std::vector<Point>& path) {
    std::vector<Point> distinct(path);
    distinct.erase(std::unique(distinct.begin(), distinct.end()), distinct.end());
    return distinct.size();
}

void check_motion(const GunMotion& hand, std::size_t point_count, const SourceSpan& span,
                  Diagnostics& diagnostics) {
    const auto check = [&](std::size_t count, std::string_view noun) {
        if (count != 0 && count != point_count)
            diagnostics.error("P023", span, fmt::format("{} {} for {} points", count, noun, point_count),
                              "give one per point of the path, or a single one for all");
    };
    check(hand.speeds.size(), "speeds");
    check(hand.distances.size(), "distances");
}

}  // namespace fadewright::plan
