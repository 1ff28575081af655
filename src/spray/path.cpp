#include "fadewright/spray/path.h"

#include "fadewright/base/contract.h"
#include "fadewright/spray/footprint.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace fadewright::spray {
namespace {

// Points closer than this share of a length are equal: the rounding of rotated directions.
constexpr double kRounding = 1e-9;

constexpr double kFar_mm = 1e12;  // beyond any panel

struct Direction {
    double dx, dy;
};

// Multiples of 90 degrees are exact, so that horizontal passes are horizontal.
Direction direction_of(double degrees) noexcept {
    const double quarters = degrees / 90;
    if (quarters == std::floor(quarters)) {
        constexpr std::array<Direction, 4> exact{{{1, 0}, {0, 1}, {-1, 0}, {0, -1}}};
        const double quarter = quarters - 4 * std::floor(quarters / 4);
        return exact[static_cast<std::size_t>(quarter)];
    }
    const double angle = degrees * std::numbers::pi / 180;
    return {std::cos(angle), std::sin(angle)};
}

struct ParameterRange {
    double from, to;
};

// Range of t with low <= start + t d <= high.
void clip(double start, double d, double low, double high, ParameterRange& t) noexcept {
    const double slack = kRounding * (high - low);
    if (d == 0) {
        if (start < low - slack || start > high + slack) t = {0, -1};
        return;
    }
    const double a = (low - start) / d;
    const double b = (high - start) / d;
    t.from = std::max(t.from, std::min(a, b));
    t.to = std::min(t.to, std::max(a, b));
}

Pass make_pass(const Sweep& sweep, const geometry::Point& from, const geometry::Point& to) {
    Pass pass;
    static_cast<GunMotion&>(pass) = sweep;
    pass.points = {from, to};
    return pass;
}

// The passes of one direction. Lines are given by n, the distance to the left of the travel (or to the
// right, whichever leads from the corner `from` towards `to`).
void add_lines(const Sweep& sweep, double degrees, double step, std::vector<Pass>& passes) {
    const Direction travel = direction_of(degrees);
    Direction side{-travel.dy, travel.dx};
    if ((sweep.to.x - sweep.from.x).value * side.dx + (sweep.to.y - sweep.from.y).value * side.dy < 0)
        side = {-side.dx, -side.dy};
    const auto [x0, x1] = std::minmax({sweep.from.x.value, sweep.to.x.value});
    const auto [y0, y1] = std::minmax({sweep.from.y.value, sweep.to.y.value});
    const auto [first, last] = std::minmax({x0 * side.dx + y0 * side.dy, x1 * side.dx + y0 * side.dy,
                                            x0 * side.dx + y1 * side.dy, x1 * side.dx + y1 * side.dy});
    const double shortest = kRounding * std::hypot(x1 - x0, y1 - y0);
    for (int k = 0;; ++k) {
        const double n = first + (k + sweep.offset.value) * step;
        if (n > last + shortest) return;
        const double x = n * side.dx;
        const double y = n * side.dy;
        ParameterRange t{-kFar_mm, kFar_mm};
        clip(x, travel.dx, x0, x1, t);
        clip(y, travel.dy, y0, y1, t);
        if (t.to - t.from <= shortest) continue;  // grazes a corner
        const auto point_at = [&](double s) {
            return geometry::Point{Millimetres{x + s * travel.dx}, Millimetres{y + s * travel.dy}};
        };
        passes.push_back(make_pass(sweep, point_at(t.from), point_at(t.to)));
    }
}

}  // namespace

Millimetres pass_spacing(const Sweep& sweep, const Gun& gun) noexcept {
    return (1 - sweep.overlap.value) * pass_width(gun, sweep.distance);
}

std::vector<Pass> sweep_passes(const Sweep& sweep, const Gun& gun) {
    FW_EXPECTS(sweep.overlap.value >= 0 && sweep.overlap.value < 1);
    const double step = pass_spacing(sweep, gun).value;
    FW_EXPECTS(step > 0);
    std::vector<Pass> passes;
    add_lines(sweep, sweep.direction.value, step, passes);
    if (sweep.cross) add_lines(sweep, sweep.direction.value + 90, step, passes);
    return passes;
}

Millimetres min_width(const Gun& gun, const Pass& pass) noexcept {
    double scale = distance_scale(gun, pass.distance);
    for (std::size_t i = 0; i < pass.distances.size(); ++i) {
        const double point_scale = distance_scale(gun, pass.distances[i]);
        scale = i == 0 ? point_scale : std::min(scale, point_scale);
    }
    if (gun.pattern == Pattern::round) return scale * 2 * std::sqrt(2 * std::numbers::ln2) * gun.sigma;
    if (gun.pattern == Pattern::measured) {
        const double half = *std::max_element(gun.profile.begin(), gun.profile.end()) / 2;
        const auto above =
            std::count_if(gun.profile.begin(), gun.profile.end(), [half](double p) { return p >= half; });
        return scale *
               std::min(static_cast<double>(above) / static_cast<double>(gun.profile.size()) * gun.fan_width,
                        0.7 * gun.fan_thickness);
    }
    // (1 - u^2)^(taper - 1/2) is at half height where u^2 = 1 - 2^(-1/(taper - 1/2)).
    const auto at_half = [](double taper) { return std::sqrt(1 - std::exp2(-1 / (taper - 0.5))); };
    return scale *
           std::min(at_half(gun.beta_across) * gun.fan_width, at_half(gun.beta_along) * gun.fan_thickness);
}

}  // namespace fadewright::spray
