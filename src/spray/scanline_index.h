// Scanline index: edges sorted into buckets by height; the intervals of a row inside, by the even-odd rule.
//
// An edge includes its lower end and excludes its upper end; so a row through a corner is counted once or
// twice as needed, and horizontal edges are never met.
//
// Checks     tests/spray/outline_test.cpp
#pragma once

#include "edge_bvh.h"
#include "fadewright/spray/pass_segment.h"

#include <cstddef>
#include <vector>

namespace fadewright::spray {

class ScanlineIndex {
public:
    explicit ScanlineIndex(const std::vector<Edge>& edges);

    [[nodiscard]] bool inside(double x_mm, double y_mm) const noexcept;
    [[nodiscard]] std::vector<Interval> intervals(double y_mm) const;

private:
    struct RisingEdge {
        double x0, y0, y1;  // from its lower end up to y1
        double slope;       // dx per dy
        [[nodiscard]] bool crosses(double y) const noexcept { return y0 <= y && y < y1; }
        [[nodiscard]] double x_at(double y) const noexcept { return x0 + (y - y0) * slope; }
    };
    [[nodiscard]] std::size_t bucket_at(double y_mm) const noexcept;

    double low_ = 0, high_ = 0;
    double buckets_per_mm_ = 0;
    std::vector<std::size_t> first_;  // of each bucket in edges_; one more at the end
    std::vector<RisingEdge> edges_;   // bucket by bucket, some in several
};

}  // namespace fadewright::spray
