// Relief: height of the surface of the piece over the plane that gun distances refer to.
//
// The plane is z = 0, heights increase towards the gun; grooves are negative. A relief is the sum of its
// parts:
//
//     Cylinder   z = sqrt(R^2 - t^2) - R, t from the axis: its top lies in the plane, all else behind it
//     Sphere     the same with t from the centre
//     Dome       a spherical cap on the plane, of given base and height; a negative height makes a dish
//     Bevel      falls by `drop` over `width` from the inside to the outline: straight, or as an arc tangent
//                to the top. Outside the outline the surface continues level
//     Groove     a V along lines, of given width and depth, its bottom sharp, its shoulders rounded or sharp
//     HeightMap  a grid of heights over a rectangle, bicubic between them, outside as on its nearest edge
//
// Cylinders and spheres end at their horizon, where their slope has reached kMaxSlope: beyond it at() returns
// `no_surface`, with the height of the horizon and no slope. Bevel arcs are clamped at kMaxSlope too.
//
// Symbols    heights and lengths mm; slopes mm per mm
// Source: [keys1981] (bicubic); plane geometry: own derivation.
// Holds for  lengths above 0, drop of an arc at most its width, a dome at most half a sphere (contracts)
// Accuracy   heights exact to rounding, of bevels and grooves along the edges of their lines; slopes are the
//            heights' own derivatives
// Checks     tests/spray/relief_test.cpp
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/geometry/outline.h"

#include <memory>
#include <variant>
#include <vector>

namespace fadewright::geometry {
class EdgeBvh;
}

namespace fadewright::spray {

inline constexpr double kMaxSlope = 20;  // rise over run

struct SurfaceSample {
    double height_mm = 0;
    double dz_dx = 0, dz_dy = 0;
    bool no_surface = false;  // beyond the horizon
};

struct Cylinder {
    geometry::PlanePoint axis_point;  // a point of its axis, in front view
    Degrees axis;                     // 0: horizontal, 90: upright
    Millimetres radius;
    friend bool operator==(const Cylinder&, const Cylinder&) = default;
};

struct Sphere {
    geometry::PlanePoint centre;
    Millimetres radius;
    friend bool operator==(const Sphere&, const Sphere&) = default;
};

struct Dome {
    geometry::PlanePoint centre;
    Millimetres base_radius;
    Millimetres height;  // not 0
    friend bool operator==(const Dome&, const Dome&) = default;
};

enum class BevelProfile { straight, arc };

struct Bevel {
    geometry::Outline outline;
    Millimetres width, drop;
    BevelProfile profile = BevelProfile::straight;
    friend bool operator==(const Bevel&, const Bevel&) = default;
};

// Open lines with a distance function. Copies share them.
class PolylineSet {
public:
    explicit PolylineSet(
        std::vector<geometry::Ring> open_lines);  // each joins its corners in order; finite (contract)
    explicit PolylineSet(const geometry::Outline& outline);  // the closed rings

    // Never negative; no gradient on a line. Beyond `max_distance_mm`: as with Outline.
    [[nodiscard]] geometry::DistanceGradient distance_gradient(
        double x_mm, double y_mm, double max_distance_mm = geometry::kNoDistanceLimit) const noexcept;

    [[nodiscard]] const std::vector<geometry::Ring>& polylines() const noexcept {
        return *polylines_;
    }  // closed ones repeat

    friend bool operator==(const PolylineSet& a, const PolylineSet& b) {
        return *a.polylines_ == *b.polylines_;
    }

private:
    std::shared_ptr<const std::vector<geometry::Ring>> polylines_;
    std::shared_ptr<const geometry::EdgeBvh> tree_;
};

struct Groove {
    PolylineSet lines;
    Millimetres width, depth;  // from shoulder to shoulder before rounding
    Millimetres shoulder;      // radius; 0: sharp. Clamped to what fits between shoulder and bottom
    friend bool operator==(const Groove&, const Groove&) = default;
};

// Heights at the centres of equal cells over a rectangle, row by row from the lowest.
class HeightMap {
public:
    HeightMap(geometry::Box area, int columns, int rows, std::vector<float> heights_mm);

    [[nodiscard]] SurfaceSample at(double x_mm, double y_mm) const noexcept;
    [[nodiscard]] double lowest_mm() const noexcept { return lowest_; }
    [[nodiscard]] double highest_mm() const noexcept { return highest_; }  // between the cells as well

    friend bool operator==(const HeightMap& a, const HeightMap& b) noexcept;

private:
    geometry::Box area_;
    int columns_, rows_;
    std::shared_ptr<const std::vector<float>> heights_;
    double lowest_ = 0, highest_ = 0;
};

using ReliefPart = std::variant<Cylinder, Sphere, Dome, Bevel, Groove, HeightMap>;

class Relief {
public:
    Relief() = default;  // flat
    // `area`: the box that lowest_mm() and highest_mm() refer to.
    Relief(std::vector<ReliefPart> parts, geometry::Box area);

    [[nodiscard]] SurfaceSample at(double x_mm, double y_mm) const noexcept;
    [[nodiscard]] bool flat() const noexcept { return parts_.empty(); }

    // Bounds of the surface in the box; not always tight where parts overlap.
    [[nodiscard]] double lowest_mm() const noexcept { return lowest_; }
    [[nodiscard]] double highest_mm() const noexcept { return highest_; }

    // Mean curvature, 1/mm: half of 1/R on a cylinder, 1/R on a sphere, positive where the surface bulges
    // towards the gun. From the slopes `step_mm` to each side, so that a sharp edge counts by its angle.
    [[nodiscard]] double curvature(double x_mm, double y_mm, double step_mm) const noexcept;

    [[nodiscard]] const std::vector<ReliefPart>& parts() const noexcept { return parts_; }
    friend bool operator==(const Relief& a, const Relief& b) { return a.parts_ == b.parts_; }

private:
    std::vector<ReliefPart> parts_;
    double lowest_ = 0, highest_ = 0;
};

}  // namespace fadewright::spray
