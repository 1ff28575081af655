#include "fadewright/spray/outline.h"
#include "geos.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string_view>
#include <utility>

namespace fadewright::spray {
namespace {

constexpr double kArcTolerance_mm = kOffsetLineTolerance_mm / 4;
constexpr double kSimplifyTolerance_mm = kOffsetLineTolerance_mm / 2;
constexpr int kMaxCorrections = 60;
constexpr double kOtherEdge_sin = 0.01;  // between the directions of two edges; less is one curve

// Number of edges in a quarter of an arc, for a sagitta within the tolerance.
int quadrant_segments(double radius) {
    const double angle = 2 * std::acos(std::max(0.0, 1 - kArcTolerance_mm / radius));
    return std::max(1, static_cast<int>(std::ceil(std::numbers::pi / 2 / angle)));
}

// GEOS omits shallow corners of the outline and replaces arcs by chords, so that its offset is a few micrometres
// off. Each correction is a step along the gradient. Where two edges are equally near, that would only alternate
// between them; so after a step for one edge, the step for another keeps the distance from the first.
PlanePoint corrected(const Outline& outline, PlanePoint p, double offset) {
    double along_x = 0, along_y = 0;  // of the edge of the last step
    for (int i = 0; i < kMaxCorrections; ++i) {
        const DistanceGradient at = outline.distance_gradient(p.x_mm, p.y_mm);
        const double excess = at.distance_mm - offset;
        if (std::abs(excess) < kOffsetAccuracy_mm / 2) break;
        const double slope = at.dx * along_x + at.dy * along_y;
        p = std::abs(slope) > kOtherEdge_sin
                ? PlanePoint{p.x_mm - excess / slope * along_x, p.y_mm - excess / slope * along_y}
                : PlanePoint{p.x_mm - excess * at.dx, p.y_mm - excess * at.dy};
        along_x = -at.dy;
        along_y = at.dx;
    }
    return p;
}

}  // namespace

std::vector<Ring> Outline::offset_rings(Millimetres offset) const {
    if (empty()) return {};
    const Geos geos;
    const Geos::Shape area = geos.even_odd_area(*rings_);
    const Geos::Shape offset_area = geos.own(
        GEOSBuffer_r(geos.context(), area.get(), offset.value, quadrant_segments(std::abs(offset.value))));
    std::vector<Ring> rings;
    for (Ring& ring : geos.rings_of(offset_area.get())) {
        for (PlanePoint& p : ring) p = corrected(*this, p, offset.value);
        start_at_lowest(ring);
        Ring simplified = simplify(ring, kSimplifyTolerance_mm);
        if (simplified.size() >= 3) rings.push_back(std::move(simplified));
    }
    std::sort(rings.begin(), rings.end(),
              [](const Ring& a, const Ring& b) { return lowest_first(a[0]) < lowest_first(b[0]); });
    return rings;
}

double even_odd_area_mm2(const std::vector<Ring>& rings) {
    if (rings.empty()) return 0;
    const Geos geos;
    double area = 0;
    GEOSArea_r(geos.context(), geos.even_odd_area(rings).get(), &area);
    return area;
}

std::optional<PlanePoint> self_crossing(const Ring& ring) {
    const Geos geos;
    char* reason = nullptr;
    GEOSGeometry* location = nullptr;
    const Geos::Shape polygon = geos.polygon(ring);
    GEOSisValidDetail_r(geos.context(), polygon.get(), GEOSVALID_ALLOW_SELFTOUCHING_RING_FORMING_HOLE,
                        &reason, &location);
    const bool crosses = reason && std::string_view(reason) == "Self-intersection";
    GEOSFree_r(geos.context(), reason);
    if (!location) return std::nullopt;
    const Geos::Shape owned = geos.own(location);
    PlanePoint at{};
    GEOSGeomGetX_r(geos.context(), location, &at.x_mm);
    GEOSGeomGetY_r(geos.context(), location, &at.y_mm);
    return crosses ? std::optional(at) : std::nullopt;
}

}  // namespace fadewright::spray
