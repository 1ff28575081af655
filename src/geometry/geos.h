// Polygons and lines of the GEOS library, owned by this program.
//
// Each Geos has a context of its own, so that threads share nothing; it must outlive the shapes that it made.
// What GEOS cannot calculate is a violated contract: rings and lines here have finite points.
//
// Checks     tests/geometry/outline_test.cpp, tests/geometry/polyline_test.cpp
#pragma once

#include "fadewright/geometry/contour.h"

#include <geos_c.h>

#include <memory>
#include <span>
#include <vector>

namespace fadewright::geometry {

class Geos {
public:
    struct DestroyShape {
        GEOSContextHandle_t context;
        void operator()(GEOSGeometry* shape) const noexcept { GEOSGeom_destroy_r(context, shape); }
    };
    using Shape = std::unique_ptr<GEOSGeometry, DestroyShape>;

    Geos();

    [[nodiscard]] GEOSContextHandle_t context() const noexcept { return context_.get(); }
    [[nodiscard]] Shape own(GEOSGeometry* shape) const;

    [[nodiscard]] Shape line(std::span<const PlanePoint> points) const;
    [[nodiscard]] Shape polygon(Ring ring) const;  // valid or not
    // Inside the rings by the even-odd rule: valid polygons. At least one ring (contract).
    [[nodiscard]] Shape even_odd_area(std::span<const Ring> rings) const;

    [[nodiscard]] std::vector<Ring> rings_of(const GEOSGeometry* polygons) const;
    [[nodiscard]] std::vector<std::vector<PlanePoint>> lines_of(const GEOSGeometry* lines) const;

private:
    struct FinishContext {
        void operator()(GEOSContextHandle_t context) const noexcept { GEOS_finish_r(context); }
    };
    // Owned by the line or ring that is made of it.
    [[nodiscard]] GEOSCoordSequence* sequence_of(std::span<const PlanePoint> points) const;
    [[nodiscard]] std::vector<PlanePoint> points_of(const GEOSGeometry* line) const;

    std::unique_ptr<GEOSContextHandle_HS, FinishContext> context_;
};

}  // namespace fadewright::geometry
