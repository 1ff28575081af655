#include "fade_ground.h"

#include "fadewright/spray/curve.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace fadewright::plan {
namespace {

constexpr double kFar_mm = 30'000;        // beyond any panel
constexpr double kWholeStep_mm = 10;      // ends of passes lie on whole centimetres
constexpr double kMostOverrun_mm = 2000;  // that a plan can say
// The two steps of an even scatter over a square: Roberts 2018 (from memory).
constexpr double kScatterX = 0.7548776662466927, kScatterY = 0.5698402909980532;

Millimetres tenth(double mm) { return Millimetres{std::round(10 * mm) / 10 + 0.0}; }

std::vector<spray::Point> to_points(const std::vector<Point>& path) {
    std::vector<spray::Point> points;
    for (const Point& p : path) points.push_back({p.x, p.y});
    return points;
}

std::vector<spray::Corner> carried_on(const Fade& fade) {
    const auto points = to_points(fade.path);
    const spray::Polyline line = fade.smooth ? spray::smooth_line(points) : spray::straight_line(points);
    std::vector<spray::Corner> out;
    for (std::size_t i = 0; i < line.x_mm.size(); ++i) out.push_back({line.x_mm[i], line.y_mm[i]});
    const auto beyond = [](const spray::Corner& end, const spray::Corner& inner) {
        const double length = std::hypot(end.x_mm - inner.x_mm, end.y_mm - inner.y_mm);
        return spray::Corner{end.x_mm + kFar_mm * (end.x_mm - inner.x_mm) / length,
                             end.y_mm + kFar_mm * (end.y_mm - inner.y_mm) / length};
    };
    if (out.front() == out.back()) return out;
    out.insert(out.begin(), beyond(out[0], out[1]));
    out.push_back(beyond(out[out.size() - 1], out[out.size() - 2]));
    return out;
}

// Distance to a line, positive to its left. At a corner the side that sees the place more squarely decides.
double left_of(const std::vector<spray::Corner>& line, double x, double y) {
    double nearest = std::numeric_limits<double>::infinity(), side = 0;
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
        const double ax = line[i].x_mm, ay = line[i].y_mm;
        const double ex = line[i + 1].x_mm - ax, ey = line[i + 1].y_mm - ay;
        const double length2 = ex * ex + ey * ey;
        const double t = std::clamp(((x - ax) * ex + (y - ay) * ey) / length2, 0.0, 1.0);
        const double away = std::hypot(x - ax - t * ex, y - ay - t * ey);
        const double across = (ex * (y - ay) - ey * (x - ax)) / std::sqrt(length2);
        if (away < nearest - 1e-9 || (away < nearest + 1e-9 && std::abs(across) > std::abs(side)))
            side = across;
        nearest = std::min(nearest, away);
    }
    return std::copysign(nearest, side);
}

}  // namespace

FadeGround::FadeGround(const Fade& fade, const spray::Outline& panel, const spray::Outline* rim)
    : fade_(fade), panel_(panel), rim_(rim), straight_(fade.start.has_value()) {
    if (straight_) {
        const double ex = (fade.end->x - fade.start->x).value, ey = (fade.end->y - fade.start->y).value;
        width_ = std::hypot(ex, ey);
        x0_ = fade.start->x.value + 0.5 * ex;
        y0_ = fade.start->y.value + 0.5 * ey;
        dx_ = ex / width_;
        dy_ = ey / width_;
    } else {
        width_ = fade.width->value;
        if (!rim_) halfway_ = carried_on(fade);
    }
    lowest_ = std::numeric_limits<double>::infinity();
    highest_ = -lowest_;
    const auto meet = [this](double x, double y) {
        lowest_ = std::min(lowest_, u_mm(x, y));
        highest_ = std::max(highest_, u_mm(x, y));
    };
    for (const spray::Ring& ring : panel_.rings())
        for (const spray::Corner& c : ring) meet(c.x_mm, c.y_mm);
    if (straight_) return;
    constexpr std::size_t kEnough = 2000;  // u is steepest at 1, so its bounds are soon known
    for (const FadeSpot& spot : spots(kEnough)) meet(spot.x_mm, spot.y_mm);
}

double FadeGround::u_mm(double x_mm, double y_mm) const noexcept {
    if (straight_) return (x_mm - x0_) * dx_ + (y_mm - y0_) * dy_;
    if (!rim_) return left_of(halfway_, x_mm, y_mm);
    const double outwards = rim_->signed_distance_mm(x_mm, y_mm) + fade_.inward->value;
    return fade_.inside ? -outwards : outwards;
}

std::vector<FadeSpot> FadeGround::spots(std::size_t wanted) const {
    std::vector<FadeSpot> out;
    if (straight_) {
        for (std::size_t i = 0; i <= wanted; ++i) {
            const double u =
                lowest_ + (highest_ - lowest_) * static_cast<double>(i) / static_cast<double>(wanted);
            out.push_back({x0_ + u * dx_, y0_ + u * dy_, u});
        }
        return out;
    }
    const spray::Box box = panel_.bounds();
    double a = 0.5, b = 0.5;
    for (std::size_t tries = 0; out.size() < wanted && tries < 20 * wanted; ++tries) {
        a += kScatterX;
        b += kScatterY;
        a -= std::floor(a);
        b -= std::floor(b);
        const double x = box.x0 + a * (box.x1 - box.x0), y = box.y0 + b * (box.y1 - box.y0);
        if (panel_.inside(x, y)) out.push_back({x, y, u_mm(x, y)});
    }
    return out;
}

std::optional<FadeLine> FadeGround::line(double u_mm, bool back, const Reach& reach, Degrees tilt,
                                         const Usual& usual) const {
    return straight_ ? straight_line(u_mm, back, reach, usual) : followed_line(u_mm, reach, tilt, usual);
}

// At right angles to the way of u, over as much of the panel as the pass can reach.
std::optional<FadeLine> FadeGround::straight_line(double u_mm, bool back, const Reach& reach,
                                                  const Usual& usual) const {
    const double nx = -dy_, ny = dx_;
    double from = std::numeric_limits<double>::infinity(), to = -from;
    for (const spray::Ring& ring : panel_.rings()) {
        for (std::size_t i = 0; i < ring.size(); ++i) {
            // The part of this edge within reach: straight edges, so its two ends.
            const spray::Corner &p = ring[i], &q = ring[(i + 1) % ring.size()];
            const double up = this->u_mm(p.x_mm, p.y_mm) - u_mm, uq = this->u_mm(q.x_mm, q.y_mm) - u_mm;
            double t0 = 0, t1 = 1;
            for (const double bound : {-reach.side_mm, reach.side_mm}) {
                const bool low = bound < 0;
                const bool p_in = low ? up >= bound : up <= bound, q_in = low ? uq >= bound : uq <= bound;
                if (!p_in && !q_in) t1 = -1;
                if (p_in == q_in) continue;
                const double t = (bound - up) / (uq - up);
                (p_in ? t1 : t0) = p_in ? std::min(t1, t) : std::max(t0, t);
            }
            if (t1 < t0) continue;
            for (const double t : {t0, t1}) {
                const double n =
                    nx * (p.x_mm + t * (q.x_mm - p.x_mm)) + ny * (p.y_mm + t * (q.y_mm - p.y_mm));
                from = std::min(from, n);
                to = std::max(to, n);
            }
        }
    }
    if (!(to > from)) return std::nullopt;
    from = std::floor((from - reach.end_mm) / kWholeStep_mm) * kWholeStep_mm;
    to = std::ceil((to + reach.end_mm) / kWholeStep_mm) * kWholeStep_mm;
    const double n0 = nx * x0_ + ny * y0_;  // of the halfway place
    const double x = x0_ + u_mm * dx_, y = y0_ + u_mm * dy_;
    const auto at = [&](double n) { return Point{tenth(x + (n - n0) * nx), tenth(y + (n - n0) * ny)}; };
    FadeLine line{u_mm, {}, {}};
    Pass pass;
    pass.path = {at(from), at(to)};
    Pass endless;
    endless.path = {Point{Millimetres{x - kFar_mm * nx}, Millimetres{y - kFar_mm * ny}},
                    Point{Millimetres{x + kFar_mm * nx}, Millimetres{y + kFar_mm * ny}}};
    if (back) {
        std::reverse(pass.path.begin(), pass.path.end());
        std::reverse(endless.path.begin(), endless.path.end());
    }
    pass.place = fade_.place;
    line.written = pass;
    line.laid = {to_spray(endless, usual)};
    return line;
}

// So far must a path be carried on that its ends leave no gap on the panel.
double FadeGround::overrun_mm(double end_mm) const {
    const spray::Box box = panel_.bounds();
    const auto leaves = [&](const spray::Corner& end, const spray::Corner& far) {
        const double ex = (far.x_mm - end.x_mm) / kFar_mm, ey = (far.y_mm - end.y_mm) / kFar_mm;
        double way = 0;
        for (const auto& [x, y] :
             {std::pair{box.x0, box.y0}, {box.x1, box.y0}, {box.x0, box.y1}, {box.x1, box.y1}})
            way = std::max(way, (x - end.x_mm) * ex + (y - end.y_mm) * ey);
        return way;
    };
    if (halfway_.front() == halfway_.back()) return 0;
    const double way =
        std::max(leaves(halfway_[1], halfway_[0]), leaves(halfway_[halfway_.size() - 2], halfway_.back()));
    return std::min(kMostOverrun_mm, std::ceil((way + end_mm) / kWholeStep_mm) * kWholeStep_mm);
}

std::optional<FadeLine> FadeGround::followed_line(double u_mm, const Reach& reach, Degrees tilt,
                                                  const Usual& usual) const {
    Follow follow;
    follow.place = fade_.place;
    FadeLine line{u_mm, {}, {}};
    if (rim_) {
        follow.shape = fade_.shape;
        follow.offset = tenth((fade_.inside ? -u_mm : u_mm) - fade_.inward->value);
        follow.tilt = tilt;
        line.laid = followed(follow, *rim_, usual);
    } else {
        follow.path = fade_.path;
        follow.smooth = fade_.smooth;
        follow.offset = tenth(u_mm);
        follow.overrun = Millimetres{overrun_mm(reach.end_mm)};
        line.laid = {followed(follow, usual)};
    }
    if (line.laid.empty()) return std::nullopt;
    line.written = follow;
    return line;
}

}  // namespace fadewright::plan
