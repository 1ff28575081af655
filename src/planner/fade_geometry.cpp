#include "fade_geometry.h"

#include "fadewright/geometry/polyline.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace fadewright::planner {
namespace {

constexpr double kFar_mm = 30'000;       // beyond any panel
constexpr double kRounding_mm = 10;      // ends of passes are rounded to whole centimetres
constexpr double kMaxOverrun_mm = 2000;  // limit of a plan
// The two steps of an even scatter over a square. Source: [roberts2018].
constexpr double kScatterX = 0.7548776662466927, kScatterY = 0.5698402909980532;

Millimetres round_to_tenth(double mm) { return Millimetres{std::round(10 * mm) / 10 + 0.0}; }

std::vector<geometry::Point> to_points(const std::vector<plan::Point>& path) {
    std::vector<geometry::Point> points;
    for (const plan::Point& p : path) points.push_back({p.x, p.y});
    return points;
}

std::vector<geometry::PlanePoint> extended_midline(const plan::Fade& fade) {
    const auto points = to_points(fade.path);
    const geometry::Polyline line =
        fade.smooth ? geometry::smooth_polyline(points) : geometry::straight_polyline(points);
    std::vector<geometry::PlanePoint> out;
    for (std::size_t i = 0; i < line.x_mm.size(); ++i) out.push_back({line.x_mm[i], line.y_mm[i]});
    const auto beyond = [](const geometry::PlanePoint& end, const geometry::PlanePoint& inner) {
        const double length = std::hypot(end.x_mm - inner.x_mm, end.y_mm - inner.y_mm);
        return geometry::PlanePoint{end.x_mm + kFar_mm * (end.x_mm - inner.x_mm) / length,
                                    end.y_mm + kFar_mm * (end.y_mm - inner.y_mm) / length};
    };
    if (out.front() == out.back()) return out;
    out.insert(out.begin(), beyond(out[0], out[1]));
    out.push_back(beyond(out[out.size() - 1], out[out.size() - 2]));
    return out;
}

// Distance to a line, positive to its left. At a corner the more perpendicular side decides.
double signed_distance_left(const std::vector<geometry::PlanePoint>& line, double x, double y) {
    double nearest = std::numeric_limits<double>::infinity(), side = 0;
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
        const double ax = line[i].x_mm, ay = line[i].y_mm;
        const double ex = line[i + 1].x_mm - ax, ey = line[i + 1].y_mm - ay;
        const double length2 = ex * ex + ey * ey;
        const double t = std::clamp(((x - ax) * ex + (y - ay) * ey) / length2, 0.0, 1.0);
        const double distance = std::hypot(x - ax - t * ex, y - ay - t * ey);
        const double across = (ex * (y - ay) - ey * (x - ax)) / std::sqrt(length2);
        if (distance < nearest - 1e-9 || (distance < nearest + 1e-9 && std::abs(across) > std::abs(side)))
            side = across;
        nearest = std::min(nearest, distance);
    }
    return std::copysign(nearest, side);
}

}  // namespace

FadeGeometry::FadeGeometry(const plan::Fade& fade, const geometry::Outline& panel,
                           const geometry::Outline* rim)
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
        if (!rim_) midline_ = extended_midline(fade);
    }
    min_u_ = std::numeric_limits<double>::infinity();
    max_u_ = -min_u_;
    const auto include_point = [this](double x, double y) {
        min_u_ = std::min(min_u_, u_mm(x, y));
        max_u_ = std::max(max_u_, u_mm(x, y));
    };
    for (const geometry::Ring& ring : panel_.rings())
        for (const geometry::PlanePoint& c : ring) include_point(c.x_mm, c.y_mm);
    if (straight_) return;
    constexpr std::size_t kEnough = 2000;  // u changes by at most 1 per mm, so its bounds converge quickly
    for (const FadeSample& sample : samples(kEnough)) include_point(sample.x_mm, sample.y_mm);
}

double FadeGeometry::u_mm(double x_mm, double y_mm) const noexcept {
    if (straight_) return (x_mm - x0_) * dx_ + (y_mm - y0_) * dy_;
    if (!rim_) return signed_distance_left(midline_, x_mm, y_mm);
    const double outwards = rim_->signed_distance_mm(x_mm, y_mm) + fade_.inward->value;
    return fade_.inside ? -outwards : outwards;
}

std::vector<FadeSample> FadeGeometry::samples(std::size_t count) const {
    std::vector<FadeSample> out;
    if (straight_) {
        for (std::size_t i = 0; i <= count; ++i) {
            const double u = min_u_ + (max_u_ - min_u_) * static_cast<double>(i) / static_cast<double>(count);
            out.push_back({x0_ + u * dx_, y0_ + u * dy_, u});
        }
        return out;
    }
    const geometry::Box box = panel_.bounds();
    double a = 0.5, b = 0.5;
    for (std::size_t attempt = 0; out.size() < count && attempt < 20 * count; ++attempt) {
        a += kScatterX;
        b += kScatterY;
        a -= std::floor(a);
        b -= std::floor(b);
        const double x = box.x0 + a * (box.x1 - box.x0), y = box.y0 + b * (box.y1 - box.y0);
        if (panel_.inside(x, y)) out.push_back({x, y, u_mm(x, y)});
    }
    return out;
}

std::optional<FadeLine> FadeGeometry::line_at(double u_mm, bool reversed, const Reach& reach, Degrees tilt,
                                              const plan::MovementDefaults& defaults) const {
    return straight_ ? straight_line(u_mm, reversed, reach, defaults)
                     : outline_line(u_mm, reach, tilt, defaults);
}

// At right angles to the direction of u, over the part of the panel that the pass can reach.
std::optional<FadeLine> FadeGeometry::straight_line(double u_mm, bool reversed, const Reach& reach,
                                                    const plan::MovementDefaults& defaults) const {
    const double nx = -dy_, ny = dx_;
    double from = std::numeric_limits<double>::infinity(), to = -from;
    for (const geometry::Ring& ring : panel_.rings()) {
        for (std::size_t i = 0; i < ring.size(); ++i) {
            // The part of this edge within reach: the edge is straight, so its two ends.
            const geometry::PlanePoint &p = ring[i], &q = ring[(i + 1) % ring.size()];
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
    from = std::floor((from - reach.end_mm) / kRounding_mm) * kRounding_mm;
    to = std::ceil((to + reach.end_mm) / kRounding_mm) * kRounding_mm;
    const double n0 = nx * x0_ + ny * y0_;  // of the midpoint
    const double x = x0_ + u_mm * dx_, y = y0_ + u_mm * dy_;
    const auto at = [&](double n) {
        return plan::Point{round_to_tenth(x + (n - n0) * nx), round_to_tenth(y + (n - n0) * ny)};
    };
    FadeLine line{u_mm, {}, {}};
    plan::Pass pass;
    pass.path = {at(from), at(to)};
    plan::Pass infinite_pass;
    infinite_pass.path = {plan::Point{Millimetres{x - kFar_mm * nx}, Millimetres{y - kFar_mm * ny}},
                          plan::Point{Millimetres{x + kFar_mm * nx}, Millimetres{y + kFar_mm * ny}}};
    if (reversed) {
        std::reverse(pass.path.begin(), pass.path.end());
        std::reverse(infinite_pass.path.begin(), infinite_pass.path.end());
    }
    pass.span = fade_.span;
    line.movement = pass;
    line.passes = {plan::to_spray(infinite_pass, defaults)};
    return line;
}

// How far a path must be extended so that its ends leave no gap on the panel.
double FadeGeometry::overrun_mm(double end_mm) const {
    const geometry::Box box = panel_.bounds();
    const auto exit_distance = [&](const geometry::PlanePoint& end, const geometry::PlanePoint& far) {
        const double ex = (far.x_mm - end.x_mm) / kFar_mm, ey = (far.y_mm - end.y_mm) / kFar_mm;
        double distance = 0;
        for (const auto& [x, y] :
             {std::pair{box.x0, box.y0}, {box.x1, box.y0}, {box.x0, box.y1}, {box.x1, box.y1}})
            distance = std::max(distance, (x - end.x_mm) * ex + (y - end.y_mm) * ey);
        return distance;
    };
    if (midline_.front() == midline_.back()) return 0;
    const double distance = std::max(exit_distance(midline_[1], midline_[0]),
                                     exit_distance(midline_[midline_.size() - 2], midline_.back()));
    return std::min(kMaxOverrun_mm, std::ceil((distance + end_mm) / kRounding_mm) * kRounding_mm);
}

std::optional<FadeLine> FadeGeometry::outline_line(double u_mm, const Reach& reach, Degrees tilt,
                                                   const plan::MovementDefaults& defaults) const {
    plan::OutlinePass outline_pass;
    outline_pass.span = fade_.span;
    FadeLine line{u_mm, {}, {}};
    if (rim_) {
        outline_pass.shape = fade_.shape;
        outline_pass.offset = round_to_tenth((fade_.inside ? -u_mm : u_mm) - fade_.inward->value);
        outline_pass.heel_angle = tilt;
        line.passes = plan::trace_outline_pass(outline_pass, *rim_, defaults);
    } else {
        outline_pass.path = fade_.path;
        outline_pass.smooth = fade_.smooth;
        outline_pass.offset = round_to_tenth(u_mm);
        outline_pass.overrun = Millimetres{overrun_mm(reach.end_mm)};
        line.passes = plan::trace_outline_pass(outline_pass, defaults);
    }
    if (line.passes.empty()) return std::nullopt;
    line.movement = outline_pass;
    return line;
}

}  // namespace fadewright::planner
