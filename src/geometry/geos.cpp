#include "geos.h"

#include "fadewright/base/contract.h"

namespace fadewright::geometry {

Geos::Geos() : context_(GEOS_init_r()) { FW_ENSURES(context_ != nullptr); }

Geos::Shape Geos::own(GEOSGeometry* shape) const {
    FW_ENSURES(shape != nullptr);
    return Shape(shape, DestroyShape{context()});
}

GEOSCoordSequence* Geos::sequence_of(std::span<const PlanePoint> points) const {
    GEOSCoordSequence* sequence =
        GEOSCoordSeq_create_r(context(), static_cast<unsigned int>(points.size()), 2);
    FW_ENSURES(sequence != nullptr);
    for (unsigned int i = 0; const PlanePoint& p : points)
        GEOSCoordSeq_setXY_r(context(), sequence, i++, p.x_mm, p.y_mm);
    return sequence;
}

Geos::Shape Geos::line(std::span<const PlanePoint> points) const {
    return own(GEOSGeom_createLineString_r(context(), sequence_of(points)));
}

Geos::Shape Geos::polygon(Ring ring) const {
    ring.push_back(ring.front());
    Shape boundary = own(GEOSGeom_createLinearRing_r(context(), sequence_of(ring)));
    return own(GEOSGeom_createPolygon_r(context(), boundary.release(), nullptr, 0));
}

Geos::Shape Geos::even_odd_area(std::span<const Ring> rings) const {
    FW_EXPECTS(!rings.empty());
    if (rings.size() > 1) {
        const Shape first = even_odd_area(rings.first(rings.size() / 2));
        const Shape rest = even_odd_area(rings.subspan(rings.size() / 2));
        return own(GEOSSymDifference_r(context(), first.get(), rest.get()));
    }
    Shape shape = polygon(rings.front());
    if (GEOSisValid_r(context(), shape.get()) == 1) return shape;
    const Shape valid = own(GEOSMakeValid_r(context(), shape.get()));
    return own(GEOSBuffer_r(context(), valid.get(), 0, 1));  // without lines and points that enclose nothing
}

std::vector<PlanePoint> Geos::points_of(const GEOSGeometry* line) const {
    const GEOSCoordSequence* sequence = GEOSGeom_getCoordSeq_r(context(), line);
    unsigned int count = 0;
    GEOSCoordSeq_getSize_r(context(), sequence, &count);
    std::vector<PlanePoint> points(count);
    for (unsigned int i = 0; i < count; ++i)
        GEOSCoordSeq_getXY_r(context(), sequence, i, &points[i].x_mm, &points[i].y_mm);
    return points;
}

std::vector<std::vector<PlanePoint>> Geos::lines_of(const GEOSGeometry* lines) const {
    std::vector<std::vector<PlanePoint>> out;
    for (int i = 0; i < GEOSGetNumGeometries_r(context(), lines); ++i)
        out.push_back(points_of(GEOSGetGeometryN_r(context(), lines, i)));
    return out;
}

std::vector<Ring> Geos::rings_of(const GEOSGeometry* polygons) const {
    std::vector<Ring> rings;
    const auto add_ring = [&](const GEOSGeometry* line) {
        rings.push_back(points_of(line));
        if (!rings.back().empty()) rings.back().pop_back();  // repeats the first
    };
    for (int i = 0; i < GEOSGetNumGeometries_r(context(), polygons); ++i) {
        const GEOSGeometry* polygon = GEOSGetGeometryN_r(context(), polygons, i);
        add_ring(GEOSGetExteriorRing_r(context(), polygon));
        for (int hole = 0; hole < GEOSGetNumInteriorRings_r(context(), polygon); ++hole)
            add_ring(GEOSGetInteriorRingN_r(context(), polygon, hole));
    }
    return rings;
}

}  // namespace fadewright::geometry
