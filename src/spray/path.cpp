#include "fadewright/spray/path.h"

#include "fadewright/base/contract.h"
#include "fadewright/spray/footprint.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace fadewright::spray {
namespace {

// Places closer than this share of a length are one place: the rounding of turned directions.
constexpr double kRounding = 1e-9;

struct Direction {
    double dx, dy;
};

// Quarter turns come out exact, so that level passes are level.
Direction direction_of(double degrees) noexcept {
    const double quarters = degrees / 90;
    if (quarters == std::floor(quarters)) {
        constexpr std::array<Direction, 4> exact{{{1, 0}, {0, 1}, {-1, 0}, {0, -1}}};
        const double turn = quarters - 4 * std::floor(quarters / 4);
        return exact[static_cast<std::size_t>(turn)];
    }
    const double angle = degrees * std::numbers::pi / 180;
    return {std::cos(angle), std::sin(angle)};
}

struct Rectangle {
    double x0, y0, x1, y1;
};

struct Stretch {
    double from, to;
};

// The part of t where low <= start + t d <= high.
void clip(double start, double d, double low, double high, Stretch& t) noexcept {
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

// The passes of one direction. Lines are numbered by n, the distance to the left of the travel (or to the
// right, whichever leads from the corner `from` towards `to`).
void add_lines(const Sweep& sweep, double degrees, double step, std::vector<Pass>& passes) {
    const auto [dx, dy] = direction_of(degrees);
    double nx = -dy, ny = dx;
    if ((sweep.to.x - sweep.from.x).value * nx + (sweep.to.y - sweep.from.y).value * ny < 0) {
        nx = -nx;
        ny = -ny;
    }
    const auto [x0, x1] = std::minmax({sweep.from.x.value, sweep.to.x.value});
    const auto [y0, y1] = std::minmax({sweep.from.y.value, sweep.to.y.value});
    const Rectangle box{x0, y0, x1, y1};
    const auto [first, last] = std::minmax({box.x0 * nx + box.y0 * ny, box.x1 * nx + box.y0 * ny,
                                            box.x0 * nx + box.y1 * ny, box.x1 * nx + box.y1 * ny});
    const double size = std::hypot(box.x1 - box.x0, box.y1 - box.y0);
    for (int k = 0;; ++k) {
        const double n = first + (k + sweep.offset.value) * step;
        if (n > last + kRounding * size) return;
        // The line: (n nx, n ny) + t (dx, dy).
        Stretch t{-1e12, 1e12};
        clip(n * nx, dx, box.x0, box.x1, t);
        clip(n * ny, dy, box.y0, box.y1, t);
        if (t.to - t.from <= kRounding * size) continue;  // grazes a corner
        const auto at = [&](double s) {
            return Point{Millimetres{n * nx + s * dx}, Millimetres{n * ny + s * dy}};
        };
        Pass pass;
        pass.points = {at(t.from), at(t.to)};
        pass.speed = sweep.speed;
        pass.distance = sweep.distance;
        pass.repeats = sweep.repeats;
        pass.feather_on = sweep.feather_on;
        pass.feather_off = sweep.feather_off;
        pass.overrun = sweep.overrun;
        passes.push_back(std::move(pass));
    }
}

}  // namespace

Millimetres spacing(const Sweep& sweep, const Gun& gun) noexcept {
    return (1 - sweep.overlap.value) * pass_width(gun, sweep.distance);
}

std::vector<Pass> passes_of(const Sweep& sweep, const Gun& gun) {
    FW_EXPECTS(sweep.overlap.value >= 0 && sweep.overlap.value < 1);
    const double step = spacing(sweep, gun).value;
    FW_EXPECTS(step > 0);
    std::vector<Pass> passes;
    add_lines(sweep, sweep.direction.value, step, passes);
    if (sweep.cross) add_lines(sweep, sweep.direction.value + 90, step, passes);
    return passes;
}

Millimetres finest_width(const Gun& gun, const Pass& pass) noexcept {
    const double scale = distance_scale(gun, pass.distance);
    if (gun.pattern == Pattern::round) return scale * 2 * std::sqrt(2 * std::numbers::ln2) * gun.sigma;
    // (1 - u^2)^(taper - 1/2) is at half height where u^2 = 1 - 2^(-1/(taper - 1/2)).
    const auto at_half = [](double taper) { return std::sqrt(1 - std::exp2(-1 / (taper - 0.5))); };
    return scale *
           std::min(at_half(gun.beta_across) * gun.fan_width, at_half(gun.beta_along) * gun.fan_depth);
}

}  // namespace fadewright::spray
