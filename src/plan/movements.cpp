#include "movements.h"

#include "fadewright/spray/curve.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace fadewright::plan {
namespace {

// Offset lines are drawn with no more corners than that asks for.
constexpr double kFollowTolerance_mm = 0.1;

spray::Point to_spray(const Point& p) { return {p.x, p.y}; }

void lay_hand(const Hand& hand, const Usual& usual, spray::Hand& out) {
    out.speed = hand.speed ? *hand.speed : usual.coat->speed.value_or(usual.speed);
    out.speeds = hand.speeds;
    out.distance = hand.distance ? hand.distance : usual.coat->distance;
    out.distances = hand.distances;
    out.swing = hand.swing;
    out.tilt = hand.tilt;
    out.lean = hand.lean;
    out.run_up = hand.run_up;
    out.run_down = hand.run_down;
    out.repeats = hand.repeats;
    out.feather_on = hand.feather_on;
    out.feather_off = hand.feather_off;
    out.overrun = hand.overrun;
    out.opens = hand.opens;
    out.closes = hand.closes;
}

// A line moved to its left: every corner along the bisector of its sides.
std::vector<spray::Point> moved_left(const spray::Polyline& line, double offset_mm) {
    const std::size_t count = line.x_mm.size();
    std::vector<spray::Point> out;
    for (std::size_t i = 0; i < count; ++i) {
        double nx = 0, ny = 0;
        const auto add_side = [&](std::size_t a, std::size_t b) {
            const double dx = line.x_mm[b] - line.x_mm[a], dy = line.y_mm[b] - line.y_mm[a];
            const double length = std::hypot(dx, dy);
            nx -= dy / length;
            ny += dx / length;
        };
        if (i > 0) add_side(i - 1, i);
        if (i + 1 < count) add_side(i, i + 1);
        // Both sides add up to 2 cos(half the turn) along the bisector; sharp corners are not stretched far.
        const double sum = std::hypot(nx, ny);
        const double sides = i > 0 && i + 1 < count ? 2 : 1;
        const double stretch = sum > 0 ? std::min(sides / sum, 3.0) / sum : 0;
        out.push_back({Millimetres{line.x_mm[i] + offset_mm * stretch * nx},
                       Millimetres{line.y_mm[i] + offset_mm * stretch * ny}});
    }
    return out;
}

bool path_moves(const Pass& pass) {
    return pass.arc || std::any_of(pass.path.begin(), pass.path.end(),
                                   [&](const Point& p) { return p != pass.path.front(); });
}

}  // namespace

spray::Pass to_spray(const Pass& pass, const Usual& usual) {
    spray::Pass out;
    lay_hand(pass, usual, out);
    for (const Point& p : pass.path) out.points.push_back(to_spray(p));
    out.smooth = pass.smooth;
    if (pass.arc)
        out.arc = spray::Arc{to_spray(pass.arc->centre), pass.arc->radius, pass.arc->from, pass.arc->to};
    out.dwell = pass.dwell.value_or(Seconds{0.0});
    out.turn = pass.turn;
    return out;
}

spray::Sweep to_spray(const Sweep& sweep, const Usual& usual) {
    spray::Sweep out;
    lay_hand(sweep, usual, out);
    out.from = to_spray(sweep.from);
    out.to = to_spray(sweep.to);
    out.overlap = sweep.overlap;
    out.direction = sweep.direction;
    out.cross = sweep.cross;
    out.offset = sweep.offset;
    return out;
}

std::vector<spray::Pass> followed(const Follow& follow, const spray::Outline& outline, const Usual& usual) {
    std::vector<spray::Pass> passes;
    const std::vector<spray::Ring> rings =
        follow.offset.value == 0 ? outline.rings() : outline.offset_rings(follow.offset);
    for (const spray::Ring& ring : rings) {
        spray::Pass pass;
        lay_hand(follow, usual, pass);
        for (const spray::Corner& c : spray::thinned(ring, kFollowTolerance_mm))
            pass.points.push_back({Millimetres{c.x_mm}, Millimetres{c.y_mm}});
        if (spray::signed_area_mm2(ring) < 0) std::reverse(pass.points.begin(), pass.points.end());
        pass.points.push_back(pass.points.front());
        passes.push_back(std::move(pass));
    }
    return passes;
}

spray::Pass followed(const Follow& follow, const Usual& usual) {
    spray::Pass pass;
    lay_hand(follow, usual, pass);
    std::vector<spray::Point> points;
    for (const Point& p : follow.path) points.push_back(to_spray(p));
    if (follow.offset.value == 0) {
        pass.points = points;
        pass.smooth = follow.smooth;
        return pass;
    }
    pass.points = moved_left(follow.smooth ? spray::smooth_line(points) : spray::straight_line(points),
                             follow.offset.value);
    return pass;
}

void check_movement(const Pass& pass, Diagnostics& diagnostics) {
    if (pass.path.empty() != pass.arc.has_value()) {
        diagnostics.error("P024", pass.place,
                          pass.arc ? "the pass has a path and an arc" : "the pass goes nowhere",
                          "give a path, or an arc");
        return;
    }
    if (path_moves(pass) == pass.dwell.has_value())
        diagnostics.error("P008", pass.place,
                          pass.dwell ? "the pass moves, so it cannot dwell" : "the pass does not move",
                          "give two different places, or one place and  dwell = \"1 s\"");
    check_hand(pass, pass.arc ? 2 : places_of(pass.path), pass.place, diagnostics);
}

std::size_t places_of(const std::vector<Point>& path) {
    std::vector<Point> distinct(path);
    distinct.erase(std::unique(distinct.begin(), distinct.end()), distinct.end());
    return distinct.size();
}

void check_hand(const Hand& hand, std::size_t places, const Place& place, Diagnostics& diagnostics) {
    const auto check = [&](std::size_t count, std::string_view what) {
        if (count != 0 && count != places)
            diagnostics.error("P023", place, fmt::format("{} {} for {} places", count, what, places),
                              "give one for every place of the path, or a single one for all");
    };
    check(hand.speeds.size(), "speeds");
    check(hand.distances.size(), "distances");
}

}  // namespace fadewright::plan
