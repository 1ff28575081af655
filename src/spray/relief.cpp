#include "fadewright/spray/relief.h"

#include "fadewright/base/contract.h"
#include "fadewright/geometry/edge_index.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace fadewright::spray {
namespace {

// Heights of the single parts of a relief (spray/relief.h), and the range of heights of each.

struct HeightRange {
    double lowest, highest;
};

// A height that is a function of one length, and its derivative.
struct ProfileSample {
    double height_mm;
    double per_mm;
    bool no_surface = false;
};

// A circle below its highest point, at `distance` beside it.
ProfileSample circle_profile(double radius, double distance) noexcept {
    const double horizon = radius * kMaxSlope / std::hypot(1.0, kMaxSlope);
    if (distance >= horizon) return {radius / std::hypot(1.0, kMaxSlope) - radius, 0, true};
    const double up = std::sqrt(radius * radius - distance * distance);
    return {-distance * distance / (up + radius), -distance / up};
}

double dome_radius(const Dome& dome) noexcept {
    const double b = dome.base_radius.value, h = std::abs(dome.height.value);
    return (b * b + h * h) / (2 * h);
}

struct AcrossAxis {
    double x, y;  // a unit vector square to the axis
};

AcrossAxis across_axis(const Cylinder& part) noexcept {
    const double angle = radians(part.axis);
    return {-std::sin(angle), std::cos(angle)};
}

// Sample for a height that depends on a length with the gradient (dx, dy).
SurfaceSample directed_sample(const ProfileSample& profile, double dx, double dy) noexcept {
    return {profile.height_mm, profile.per_mm * dx, profile.per_mm * dy, profile.no_surface};
}

// Along the direction from a centre; level on the centre itself.
SurfaceSample radial_sample(const ProfileSample& profile, double dx, double dy, double distance) noexcept {
    return distance > 0 ? directed_sample(profile, dx / distance, dy / distance)
                        : SurfaceSample{profile.height_mm, 0, 0, profile.no_surface};
}

// The circle tangent to the top `width` from the rim and `drop` lower at the rim.
double bevel_arc_radius(const Bevel& bevel) noexcept {
    const double w = bevel.width.value, d = bevel.drop.value;
    return (w * w + d * d) / (2 * d);
}

// Inwards from the rim.
ProfileSample bevel_profile(const Bevel& bevel, double inwards) noexcept {
    const double w = bevel.width.value, d = bevel.drop.value;
    if (inwards <= 0) return {-d, 0};
    if (inwards >= w) return {0, 0};
    if (bevel.profile == BevelProfile::straight) return {-d * (1 - inwards / w), d / w};
    const double distance = w - inwards;
    const double up =
        std::sqrt(std::max(0.0, bevel_arc_radius(bevel) * bevel_arc_radius(bevel) - distance * distance));
    const double steep = distance < kMaxSlope * up ? distance / up : kMaxSlope;
    return {-distance * distance / (up + bevel_arc_radius(bevel)), steep};
}

// The groove's cross-section: where the shoulder's arc begins on the top and ends on the side.
struct GrooveSection {
    double half, depth;
    double radius;
    double top, side;  // from the bottom line
};

GrooveSection groove_section(const Groove& groove) noexcept {
    const double half = groove.width.value / 2, depth = groove.depth.value;
    // The arc turns by the side's angle; its tangents are radius x tan(angle / 2) long.
    const double slant = std::hypot(half, depth);
    const double tangent_per_radius = depth / (slant + half);
    const double radius = std::min(groove.shoulder.value, slant / tangent_per_radius);
    const double tangent = radius * tangent_per_radius;
    return {half, depth, radius, half + tangent, half - tangent * half / slant};
}

ProfileSample groove_profile(const GrooveSection& s, double distance) noexcept {
    if (distance >= s.top) return {0, 0};
    if (distance < s.side) return {-s.depth * (1 - distance / s.half), s.depth / s.half};
    if (s.radius <= 0) return {0, 0};
    const double from_top = s.top - distance;
    const double up = std::sqrt(std::max(0.0, s.radius * s.radius - from_top * from_top));
    return {-from_top * from_top / (up + s.radius), from_top / up};
}

SurfaceSample surface_sample(const Cylinder& part, double x_mm, double y_mm) noexcept {
    const AcrossAxis axis = across_axis(part);
    const double t = (x_mm - part.axis_point.x_mm) * axis.x + (y_mm - part.axis_point.y_mm) * axis.y;
    const double sign = t < 0 ? -1 : 1;
    return directed_sample(circle_profile(part.radius.value, std::abs(t)), sign * axis.x, sign * axis.y);
}

SurfaceSample surface_sample(const Sphere& part, double x_mm, double y_mm) noexcept {
    const double dx = x_mm - part.centre.x_mm, dy = y_mm - part.centre.y_mm;
    const double distance = std::hypot(dx, dy);
    return radial_sample(circle_profile(part.radius.value, distance), dx, dy, distance);
}

SurfaceSample surface_sample(const Dome& part, double x_mm, double y_mm) noexcept {
    const double dx = x_mm - part.centre.x_mm, dy = y_mm - part.centre.y_mm;
    const double distance = std::hypot(dx, dy);
    if (distance >= part.base_radius.value) return {};
    const double radius = dome_radius(part);
    const double up = std::sqrt(radius * radius - distance * distance);
    const double sign = part.height.value < 0 ? -1 : 1;
    const double height = std::abs(part.height.value) - distance * distance / (up + radius);
    const double steep = distance < kMaxSlope * up ? distance / up : kMaxSlope;
    return radial_sample({sign * height, -sign * steep}, dx, dy, distance);
}

SurfaceSample surface_sample(const Bevel& part, double x_mm, double y_mm) noexcept {
    const geometry::DistanceGradient gradient = part.outline.distance_gradient(x_mm, y_mm, part.width.value);
    return directed_sample(bevel_profile(part, -gradient.distance_mm), -gradient.dx, -gradient.dy);
}

SurfaceSample surface_sample(const Groove& part, double x_mm, double y_mm) noexcept {
    const GrooveSection section = groove_section(part);
    const geometry::DistanceGradient gradient = part.lines.distance_gradient(x_mm, y_mm, section.top);
    return directed_sample(groove_profile(section, gradient.distance_mm), gradient.dx, gradient.dy);
}

SurfaceSample surface_sample(const HeightMap& part, double x_mm, double y_mm) noexcept {
    return part.at(x_mm, y_mm);
}

HeightRange height_range(const Cylinder& part, const geometry::Box& area) noexcept {
    const AcrossAxis axis = across_axis(part);
    double min_t = 0, max_t = 0;
    bool first = true;
    for (const double x : {area.x0, area.x1})
        for (const double y : {area.y0, area.y1}) {
            const double t = (x - part.axis_point.x_mm) * axis.x + (y - part.axis_point.y_mm) * axis.y;
            min_t = first ? t : std::min(min_t, t);
            max_t = first ? t : std::max(max_t, t);
            first = false;
        }
    const double nearest = min_t <= 0 && max_t >= 0 ? 0 : std::min(std::abs(min_t), std::abs(max_t));
    const double farthest = std::max(std::abs(min_t), std::abs(max_t));
    return {circle_profile(part.radius.value, farthest).height_mm,
            circle_profile(part.radius.value, nearest).height_mm};
}

HeightRange height_range(const Sphere& part, const geometry::Box& area) noexcept {
    const auto gap = [](double low, double high, double at) { return std::max({low - at, 0.0, at - high}); };
    const auto farthest_side = [](double low, double high, double at) {
        return std::max(at - low, high - at);
    };
    const double x = part.centre.x_mm, y = part.centre.y_mm;
    const double nearest = std::hypot(gap(area.x0, area.x1, x), gap(area.y0, area.y1, y));
    const double farthest =
        std::hypot(farthest_side(area.x0, area.x1, x), farthest_side(area.y0, area.y1, y));
    return {circle_profile(part.radius.value, farthest).height_mm,
            circle_profile(part.radius.value, nearest).height_mm};
}

HeightRange height_range(const Dome& part, const geometry::Box&) noexcept {
    return {std::min(0.0, part.height.value), std::max(0.0, part.height.value)};
}

HeightRange height_range(const Bevel& part, const geometry::Box&) noexcept { return {-part.drop.value, 0}; }

HeightRange height_range(const Groove& part, const geometry::Box&) noexcept { return {-part.depth.value, 0}; }

HeightRange height_range(const HeightMap& part, const geometry::Box&) noexcept {
    return {part.lowest_mm(), part.highest_mm()};
}

// Checks the contracts of spray/relief.h.
void validate(const Cylinder& part) { FW_EXPECTS(part.radius.value > 0); }

void validate(const Sphere& part) { FW_EXPECTS(part.radius.value > 0); }

void validate(const Dome& part) {
    FW_EXPECTS(part.base_radius.value > 0);
    FW_EXPECTS(part.height.value != 0 && std::abs(part.height.value) <= part.base_radius.value);
}

void validate(const Bevel& part) {
    FW_EXPECTS(part.width.value > 0 && part.drop.value > 0);
    FW_EXPECTS(part.profile == BevelProfile::straight || part.drop.value <= part.width.value);
}

void validate(const Groove& part) {
    FW_EXPECTS(part.width.value > 0 && part.depth.value > 0 && part.shoulder.value >= 0);
}

void validate(const HeightMap&) {}

// Weights of four neighbours at t between the two inner ones, and their derivatives: the cubic
// convolution of Keys with a = -1/2, which passes through the values and has continuous slopes.
struct CubicWeights {
    std::array<double, 4> share, change;
};

CubicWeights cubic_weights(double t) noexcept {
    return {
        {((-t + 2) * t - 1) * t / 2, ((3 * t - 5) * t * t + 2) / 2, ((-3 * t + 4) * t + 1) * t / 2,
         (t - 1) * t * t / 2},
        {((-3 * t + 4) * t - 1) / 2, (9 * t - 10) * t / 2, ((-9 * t + 8) * t + 1) / 2, (3 * t - 2) * t / 2}};
}

// The cell before a position in a row of cells, and the fraction of the way to the next.
struct CubicCells {
    std::array<std::size_t, 4> cell;
    double t;
    bool outside;  // outside the outermost centres: constant from there
};

CubicCells cubic_cells(double position, int cells) noexcept {
    const double last = cells - 1;
    const double clamped = std::clamp(position, 0.0, last);
    const int before = std::clamp(static_cast<int>(clamped), 0, std::max(0, cells - 2));
    CubicCells b{{}, clamped - before, position < 0 || position > last};
    for (int k = 0; k < 4; ++k)
        b.cell[static_cast<std::size_t>(k)] =
            static_cast<std::size_t>(std::clamp(before - 1 + k, 0, cells - 1));
    return b;
}

// Bound of the sum of the cubic's negative weights: its overshoot as a share of the range.
constexpr double kOvershoot = 0.125;

}  // namespace

PolylineSet::PolylineSet(std::vector<geometry::Ring> open_lines)
    : polylines_(std::make_shared<const std::vector<geometry::Ring>>(std::move(open_lines))),
      tree_(std::make_shared<const geometry::EdgeBvh>(*polylines_, geometry::LineEnds::open)) {}

PolylineSet::PolylineSet(const geometry::Outline& outline) {
    std::vector<geometry::Ring> rings = outline.rings();
    for (geometry::Ring& ring : rings) ring.push_back(ring.front());
    *this = PolylineSet(std::move(rings));
}

geometry::DistanceGradient PolylineSet::distance_gradient(double x_mm, double y_mm,
                                                          double max_distance_mm) const noexcept {
    const geometry::EdgeBvh::Nearest nearest = tree_->nearest(x_mm, y_mm, max_distance_mm);
    const double distance = std::sqrt(nearest.squared_mm2);
    if (!(distance > 0) || std::isinf(distance)) return {distance, 0, 0};
    return {distance, (x_mm - nearest.x_mm) / distance, (y_mm - nearest.y_mm) / distance};
}

Relief::Relief(std::vector<ReliefPart> parts, geometry::Box area) : parts_(std::move(parts)) {
    for (const ReliefPart& part : parts_) {
        std::visit([](const auto& p) { validate(p); }, part);
        const HeightRange heights = std::visit([&](const auto& p) { return height_range(p, area); }, part);
        lowest_ += heights.lowest;
        highest_ += heights.highest;
    }
}

SurfaceSample Relief::at(double x_mm, double y_mm) const noexcept {
    SurfaceSample sum;
    for (const ReliefPart& part : parts_) {
        const SurfaceSample sample =
            std::visit([&](const auto& p) { return surface_sample(p, x_mm, y_mm); }, part);
        sum.height_mm += sample.height_mm;
        sum.dz_dx += sample.dz_dx;
        sum.dz_dy += sample.dz_dy;
        sum.no_surface |= sample.no_surface;
    }
    return sum;
}

// Half the divergence of the unit normal, towards the gun.
double Relief::curvature(double x_mm, double y_mm, double step_mm) const noexcept {
    if (flat()) return 0;
    struct NormalXY {
        double x, y;
    };
    const auto normal_at = [this](double x, double y) {
        const SurfaceSample s = at(x, y);
        const double length = std::sqrt(1 + s.dz_dx * s.dz_dx + s.dz_dy * s.dz_dy);
        return NormalXY{-s.dz_dx / length, -s.dz_dy / length};
    };
    const double dx = normal_at(x_mm + step_mm, y_mm).x - normal_at(x_mm - step_mm, y_mm).x;
    const double dy = normal_at(x_mm, y_mm + step_mm).y - normal_at(x_mm, y_mm - step_mm).y;
    return (dx + dy) / (4 * step_mm);
}

HeightMap::HeightMap(geometry::Box area, int columns, int rows, std::vector<float> heights_mm)
    : area_(area), columns_(columns), rows_(rows) {
    FW_EXPECTS(columns >= 1 && rows >= 1 && area.x1 > area.x0 && area.y1 > area.y0);
    FW_EXPECTS(heights_mm.size() == static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows));
    const auto [min_height, max_height] = std::minmax_element(heights_mm.begin(), heights_mm.end());
    // Weights s in one direction range from -kOvershoot to 1 + kOvershoot; in two, by their product.
    const double height_range = static_cast<double>(*max_height) - static_cast<double>(*min_height);
    const double negative = 2 * kOvershoot * (1 + kOvershoot);
    lowest_ = static_cast<double>(*min_height) - negative * height_range;
    highest_ = static_cast<double>(*max_height) + negative * height_range;
    heights_ = std::make_shared<const std::vector<float>>(std::move(heights_mm));
}

SurfaceSample HeightMap::at(double x_mm, double y_mm) const noexcept {
    const double per_x = columns_ / (area_.x1 - area_.x0);
    const double per_y = rows_ / (area_.y1 - area_.y0);
    const CubicCells across = cubic_cells((x_mm - area_.x0) * per_x - 0.5, columns_);
    const CubicCells up = cubic_cells((y_mm - area_.y0) * per_y - 0.5, rows_);
    const CubicWeights cx = cubic_weights(across.t), cy = cubic_weights(up.t);
    SurfaceSample slope;
    for (std::size_t j = 0; j < 4; ++j) {
        const float* row = heights_->data() + up.cell[j] * static_cast<std::size_t>(columns_);
        double height = 0, change = 0;
        for (std::size_t i = 0; i < 4; ++i) {
            const double z = static_cast<double>(row[across.cell[i]]);
            height += cx.share[i] * z;
            change += cx.change[i] * z;
        }
        slope.height_mm += cy.share[j] * height;
        slope.dz_dx += cy.share[j] * change;
        slope.dz_dy += cy.change[j] * height;
    }
    slope.dz_dx *= across.outside ? 0 : per_x;
    slope.dz_dy *= up.outside ? 0 : per_y;
    return slope;
}

bool operator==(const HeightMap& a, const HeightMap& b) noexcept {
    const auto same = [](const geometry::Box& p, const geometry::Box& q) {
        return p.x0 == q.x0 && p.y0 == q.y0 && p.x1 == q.x1 && p.y1 == q.y1;
    };
    return a.columns_ == b.columns_ && a.rows_ == b.rows_ && same(a.area_, b.area_) &&
           *a.heights_ == *b.heights_;
}

}  // namespace fadewright::spray
