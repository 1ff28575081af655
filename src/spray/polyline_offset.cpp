#include "edge_bvh.h"
#include "fadewright/spray/polyline.h"
#include "geos.h"

#include <cmath>

namespace fadewright::spray {
namespace {

constexpr double kMinDistanceShare = 0.98;  // of the offset; nearer pieces pass another part of the line
constexpr int kQuadrantSegments = 45;       // edges over kMaxTurn_rad
constexpr double kMitreLimit = 1;           // without effect: joins are round

static_assert(kQuadrantSegments * kMaxTurn_rad >= std::numbers::pi / 2 - 1e-12);

class LineFeet {
public:
    explicit LineFeet(const std::vector<PlanePoint>& points) : tree_({points}, LineEnds::open) {}

    [[nodiscard]] double distance_mm(PlanePoint p) const {
        return std::sqrt(tree_.nearest(p.x_mm, p.y_mm).squared_mm2);
    }
    [[nodiscard]] double corner(PlanePoint p) const {
        const EdgeBvh::Nearest foot = tree_.nearest(p.x_mm, p.y_mm);
        const Edge& edge = tree_.edges()[foot.edge];
        return static_cast<double>(foot.edge) + std::hypot(foot.x_mm - edge.ax, foot.y_mm - edge.ay) /
                                                    std::hypot(edge.bx - edge.ax, edge.by - edge.ay);
    }

private:
    EdgeBvh tree_;
};

// The pieces of an offset line that keep their distance from the whole line.
void add_parts(const std::vector<PlanePoint>& offset_line, const LineFeet& feet, double min_distance_mm,
               std::vector<OffsetPolyline>& parts) {
    bool joined = false;  // to the piece before
    for (std::size_t i = 0; i + 1 < offset_line.size(); ++i) {
        const PlanePoint a = offset_line[i], b = offset_line[i + 1];
        const PlanePoint middle{(a.x_mm + b.x_mm) / 2, (a.y_mm + b.y_mm) / 2};
        const bool keeps_distance = feet.distance_mm(middle) >= min_distance_mm;
        const auto add_point = [&](PlanePoint p) {
            parts.back().points.push_back({Millimetres{p.x_mm}, Millimetres{p.y_mm}});
            parts.back().corner.push_back(feet.corner(p));
        };
        if (keeps_distance && !joined) {
            parts.emplace_back();
            add_point(a);
        }
        if (keeps_distance) add_point(b);
        joined = keeps_distance;
    }
}

}  // namespace

std::vector<OffsetPolyline> offset_polyline(const Polyline& line, Millimetres offset) {
    std::vector<PlanePoint> points;
    for (std::size_t i = 0; i < line.x_mm.size(); ++i) points.push_back({line.x_mm[i], line.y_mm[i]});
    std::vector<OffsetPolyline> parts;
    if (points.size() < 2) return parts;
    const Geos geos;
    const Geos::Shape path = geos.line(points);
    const Geos::Shape curve = geos.own(GEOSOffsetCurve_r(geos.context(), path.get(), offset.value,
                                                         kQuadrantSegments, GEOSBUF_JOIN_ROUND, kMitreLimit));
    const Geos::Shape simplified =
        geos.own(GEOSSimplify_r(geos.context(), curve.get(), kOffsetPathTolerance_mm));
    const LineFeet feet(points);
    for (const std::vector<PlanePoint>& offset_line : geos.lines_of(simplified.get()))
        add_parts(offset_line, feet, kMinDistanceShare * std::abs(offset.value), parts);
    return parts;
}

}  // namespace fadewright::spray
