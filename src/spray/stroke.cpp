#include "fadewright/spray/stroke.h"

#include "fadewright/base/contract.h"

#include <algorithm>
#include <limits>
#include <optional>

namespace fadewright::spray {
namespace {

constexpr double kSecondsPerMinute = 60;
constexpr double kCubicMillimetresPerMillilitre = 1000;
constexpr double kBoxSlack_mm = 1e-6;  // rounding at the edge of a box must not lose a point

// The trigger along a path of a given length: 0 shut, 1 open.
class Trigger {
public:
    Trigger(double length_mm, double on_mm, double off_mm)
        : length_(length_mm), on_(std::max(0.0, on_mm)), off_(std::max(0.0, off_mm)) {
        const bool meets = on_ + off_ > length_;
        opened_ = meets ? length_ * on_ / (on_ + off_) : on_;
        closes_ = meets ? opened_ : length_ - off_;
    }

    // Where the first ramp ends and the second begins.
    [[nodiscard]] double opened() const { return opened_; }
    [[nodiscard]] double closes() const { return closes_; }

    // A trigger without a feather is open at the very end of the path.
    [[nodiscard]] double open_at(double s) const {
        double open = 1;
        if (on_ > 0) open = std::min(open, s / on_);
        if (off_ > 0) open = std::min(open, (length_ - s) / off_);
        return std::max(0.0, open);
    }

private:
    double length_, on_, off_;
    double opened_, closes_;
};

double flow_mm3_s(const Gun& gun) noexcept {
    return gun.flow.value * kCubicMillimetresPerMillilitre / kSecondsPerMinute;
}

struct Place {
    double x, y;
};

// The path without repeated places, carried on beyond both ends. A path that does not move keeps one place.
std::vector<Place> laid_out(const Pass& pass) {
    std::vector<Place> places;
    for (const Point& p : pass.points)
        if (places.empty() || places.back().x != p.x.value || places.back().y != p.y.value)
            places.push_back({p.x.value, p.y.value});
    if (places.size() < 2) return places;
    const auto beyond = [&](const Place& end, const Place& inner) {
        const double length = std::hypot(end.x - inner.x, end.y - inner.y);
        const double share = std::max(0.0, pass.overrun.value) / length;
        return Place{end.x + share * (end.x - inner.x), end.y + share * (end.y - inner.y)};
    };
    const Place first = beyond(places[0], places[1]);
    const Place last = beyond(places.back(), places[places.size() - 2]);
    places.front() = first;
    places.back() = last;
    return places;
}

double length_of(const std::vector<Place>& places) {
    double length = 0;
    for (std::size_t i = 1; i < places.size(); ++i)
        length += std::hypot(places[i].x - places[i - 1].x, places[i].y - places[i - 1].y);
    return length;
}

Used add_burst(const Gun& gun, const Pass& pass, double scale, const Place& place, Strokes& pieces) {
    const double seconds = pass.repeats * pass.dwell.value;
    const double sprayed_mm3 = flow_mm3_s(gun) * seconds;
    pieces.bursts.push_back({place.x, place.y, scale, sprayed_mm3 * gun.transfer.value});
    return {Millilitres{sprayed_mm3 / kCubicMillimetresPerMillilitre}, Seconds{seconds}};
}

// Adds a straight piece of the path, cut where the trigger's ramps end and begin, and returns its travel
// weighed by how far the trigger is open. The piece starts after `done` mm of the path.
double add_piece(const Place& from, const Place& to, double done, const Trigger& trigger, double scale,
                 double w_open, Strokes& pieces) {
    const double length = std::hypot(to.x - from.x, to.y - from.y);
    const double dx = (to.x - from.x) / length;
    const double dy = (to.y - from.y) / length;
    const double end = done + length;
    double open_mm = 0;
    double start = done;
    for (const double stop :
         {std::clamp(trigger.opened(), done, end), std::clamp(trigger.closes(), done, end), end}) {
        if (!(stop > start)) continue;
        const double a = trigger.open_at(start);
        const double b = trigger.open_at(stop);
        const double along = start - done;
        pieces.strokes.push_back(
            {from.x + along * dx, from.y + along * dy, dx, dy, stop - start, scale, w_open * a, w_open * b});
        open_mm += (a + b) / 2 * (stop - start);
        start = stop;
    }
    return open_mm;
}

}  // namespace

Used add_strokes(const Gun& gun, const Pass& pass, Strokes& pieces) {
    FW_EXPECTS(!pass.points.empty() && pass.repeats >= 0);
    const double scale = distance_scale(gun, pass.distance);
    const std::vector<Place> places = laid_out(pass);
    if (places.size() < 2) return add_burst(gun, pass, scale, places[0], pieces);

    FW_EXPECTS(pass.speed.value > 0);
    const double seconds_per_mm = pass.repeats / pass.speed.value;
    const double w_open = flow_mm3_s(gun) * gun.transfer.value * seconds_per_mm;
    const double length = length_of(places);
    const Trigger trigger(length, pass.feather_on.value, pass.feather_off.value);
    double open_mm = 0;
    double done = 0;
    for (std::size_t i = 1; i < places.size(); ++i) {
        open_mm += add_piece(places[i - 1], places[i], done, trigger, scale, w_open, pieces);
        done += std::hypot(places[i].x - places[i - 1].x, places[i].y - places[i - 1].y);
    }
    const double sprayed_mm3 = flow_mm3_s(gun) * open_mm * seconds_per_mm;
    return {Millilitres{sprayed_mm3 / kCubicMillimetresPerMillilitre}, Seconds{length * seconds_per_mm}};
}

namespace {

struct Reach {
    double across, along;
};

Reach reach_of(const Footprint& footprint, double scale) noexcept {
    return std::visit(
        [&](const auto& f) {
            return Reach{scale * f.reach_across_mm() + kBoxSlack_mm,
                         scale * f.reach_along_mm() + kBoxSlack_mm};
        },
        footprint);
}

// Narrows t to where low <= k t + c <= high.
void narrow(double k, double c, double low, double high, Interval& t) noexcept {
    if (k == 0) {
        if (c < low || c > high) t = {1, 0};
        return;
    }
    t.from = std::max(t.from, std::min((low - c) / k, (high - c) / k));
    t.to = std::min(t.to, std::max((low - c) / k, (high - c) / k));
}

}  // namespace

Box reach(const Footprint& footprint, const Stroke& s) noexcept {
    const Reach r = reach_of(footprint, s.scale);
    // The footprint lies in a box turned with the stroke.
    const double rx = r.along * std::abs(s.dx) + r.across * std::abs(s.dy);
    const double ry = r.along * std::abs(s.dy) + r.across * std::abs(s.dx);
    const double x1 = s.x_mm + s.length_mm * s.dx;
    const double y1 = s.y_mm + s.length_mm * s.dy;
    return {std::min(s.x_mm, x1) - rx, std::min(s.y_mm, y1) - ry, std::max(s.x_mm, x1) + rx,
            std::max(s.y_mm, y1) + ry};
}

Box reach(const Footprint& footprint, const Burst& b) noexcept {
    const Reach r = reach_of(footprint, b.scale);
    return {b.x_mm - r.along, b.y_mm - r.across, b.x_mm + r.along, b.y_mm + r.across};
}

Interval row_reach(const Footprint& footprint, const Stroke& s, double y_mm) noexcept {
    const Reach r = reach_of(footprint, s.scale);
    const double py = y_mm - s.y_mm;
    Interval t{-std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity()};
    narrow(s.dx, py * s.dy - s.x_mm * s.dx, -r.along, s.length_mm + r.along, t);
    narrow(-s.dy, py * s.dx + s.x_mm * s.dy, -r.across, r.across, t);
    return t;
}

Interval row_reach(const Footprint& footprint, const Burst& b, double y_mm) noexcept {
    const Box box = reach(footprint, b);
    if (y_mm < box.y0 || y_mm > box.y1) return {1, 0};
    return {box.x0, box.x1};
}

}  // namespace fadewright::spray
