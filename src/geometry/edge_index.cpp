#include "fadewright/geometry/edge_index.h"

#include "fadewright/base/contract.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace fadewright::geometry {
namespace {

constexpr std::size_t kMaxLeafEdges = 4;  // edges; measured, larger leaves are slower
constexpr std::size_t kMaxDepth = 64;     // levels: more than any number of edges needs

double squared_to_box(double x0, double y0, double x1, double y1, double x, double y) noexcept {
    const double dx = std::max({x0 - x, 0.0, x - x1});
    const double dy = std::max({y0 - y, 0.0, y - y1});
    return dx * dx + dy * dy;
}

constexpr std::size_t kMinBuckets = 16;
constexpr std::size_t kMaxBuckets = 8192;

}  // namespace

EdgeBvh::EdgeBvh(const std::vector<Ring>& lines, LineEnds ends) {
    for (const Ring& line : lines)
        for (std::size_t i = 0; i < line.size(); ++i) {
            const PlanePoint& a = line[i];
            FW_EXPECTS(std::isfinite(a.x_mm) && std::isfinite(a.y_mm));
            if (ends == LineEnds::open && i + 1 == line.size()) continue;
            const PlanePoint& b = line[(i + 1) % line.size()];
            const double dx = b.x_mm - a.x_mm, dy = b.y_mm - a.y_mm;
            if (dx * dx + dy * dy > 0) edges_.push_back({a.x_mm, a.y_mm, b.x_mm, b.y_mm});
        }
    if (!edges_.empty()) build(0, edges_.size());
}

std::size_t EdgeBvh::build(std::size_t first, std::size_t last) {
    const std::size_t node_index = nodes_.size();
    constexpr double inf = std::numeric_limits<double>::infinity();
    Node node{inf, inf, -inf, -inf, first, last, 0};
    for (std::size_t i = first; i < last; ++i) {
        const Edge& e = edges_[i];
        node.x0 = std::min({node.x0, e.ax, e.bx});
        node.y0 = std::min({node.y0, e.ay, e.by});
        node.x1 = std::max({node.x1, e.ax, e.bx});
        node.y1 = std::max({node.y1, e.ay, e.by});
    }
    nodes_.push_back(node);
    if (last - first > kMaxLeafEdges) {
        const std::size_t middle = first + (last - first) / 2;
        build(first, middle);
        nodes_[node_index].right = build(middle, last);
    }
    return node_index;
}

EdgeBvh::Nearest EdgeBvh::nearest(double x_mm, double y_mm, double max_distance_mm) const noexcept {
    constexpr double inf = std::numeric_limits<double>::infinity();
    Nearest best{inf, 0, 0, 0};
    double limit =
        max_distance_mm < inf ? max_distance_mm * max_distance_mm : inf;  // squared, of the best so far
    if (nodes_.empty()) return best;
    const auto squared_to = [&](const Node& n) { return squared_to_box(n.x0, n.y0, n.x1, n.y1, x_mm, y_mm); };
    struct Waiting {
        std::size_t node;
        double squared;
    };
    std::array<Waiting, kMaxDepth> waiting;
    std::size_t count = 0;
    waiting[count++] = {0, squared_to(nodes_[0])};
    while (count > 0) {
        const Waiting next = waiting[--count];
        if (next.squared >= limit) continue;
        const Node& node = nodes_[next.node];
        if (node.right != 0) {
            const std::size_t left = next.node + 1;
            const double to_left = squared_to(nodes_[left]);
            const double to_right = squared_to(nodes_[node.right]);
            const bool left_first = to_left <= to_right;
            waiting[count++] = left_first ? Waiting{node.right, to_right} : Waiting{left, to_left};
            waiting[count++] = left_first ? Waiting{left, to_left} : Waiting{node.right, to_right};
            continue;
        }
        for (std::size_t i = node.first; i < node.last; ++i) {
            const Edge& e = edges_[i];
            const double dx = e.bx - e.ax, dy = e.by - e.ay;
            const double along = ((x_mm - e.ax) * dx + (y_mm - e.ay) * dy) / (dx * dx + dy * dy);
            const double t = std::clamp(along, 0.0, 1.0);
            const double qx = t < 1 ? e.ax + t * dx : e.bx;
            const double qy = t < 1 ? e.ay + t * dy : e.by;
            const double squared = (x_mm - qx) * (x_mm - qx) + (y_mm - qy) * (y_mm - qy);
            if (squared >= limit) continue;
            limit = squared;
            best = {squared, qx, qy, i};
        }
    }
    return best;
}

ScanlineIndex::ScanlineIndex(const std::vector<Edge>& edges) {
    std::vector<RisingEdge> rising_edges;
    for (const Edge& e : edges) {
        if (e.ay == e.by) continue;
        const double slope = (e.bx - e.ax) / (e.by - e.ay);
        rising_edges.push_back(e.ay < e.by ? RisingEdge{e.ax, e.ay, e.by, slope}
                                           : RisingEdge{e.bx, e.by, e.ay, slope});
    }
    if (rising_edges.empty()) return;
    low_ = rising_edges.front().y0;
    high_ = rising_edges.front().y1;
    for (const RisingEdge& r : rising_edges) {
        low_ = std::min(low_, r.y0);
        high_ = std::max(high_, r.y1);
    }
    const std::size_t bucket_count = std::clamp(2 * rising_edges.size(), kMinBuckets, kMaxBuckets);
    buckets_per_mm_ = static_cast<double>(bucket_count) / (high_ - low_);

    // Count, then fill.
    first_.assign(bucket_count + 1, 0);
    for (const RisingEdge& r : rising_edges)
        for (std::size_t b = bucket_at(r.y0); b <= bucket_at(r.y1); ++b) ++first_[b + 1];
    for (std::size_t b = 1; b <= bucket_count; ++b) first_[b] += first_[b - 1];
    edges_.resize(first_.back());
    std::vector<std::size_t> at(first_.begin(), first_.end() - 1);
    for (const RisingEdge& r : rising_edges)
        for (std::size_t b = bucket_at(r.y0); b <= bucket_at(r.y1); ++b) edges_[at[b]++] = r;
}

std::size_t ScanlineIndex::bucket_at(double y_mm) const noexcept {
    const double bucket = (y_mm - low_) * buckets_per_mm_;
    return std::min(static_cast<std::size_t>(std::max(bucket, 0.0)), first_.size() - 2);
}

bool ScanlineIndex::inside(double x_mm, double y_mm) const noexcept {
    if (edges_.empty() || !(y_mm >= low_ && y_mm < high_)) return false;
    const std::size_t bucket = bucket_at(y_mm);
    bool odd = false;
    for (std::size_t i = first_[bucket]; i < first_[bucket + 1]; ++i) {
        const RisingEdge& r = edges_[i];
        odd ^= r.crosses(y_mm) && r.x_at(y_mm) <= x_mm;
    }
    return odd;
}

std::vector<Interval> ScanlineIndex::intervals(double y_mm) const {
    std::vector<Interval> intervals;
    if (edges_.empty() || !(y_mm >= low_ && y_mm < high_)) return intervals;
    const std::size_t bucket = bucket_at(y_mm);
    std::vector<double> crossings;
    for (std::size_t i = first_[bucket]; i < first_[bucket + 1]; ++i)
        if (edges_[i].crosses(y_mm)) crossings.push_back(edges_[i].x_at(y_mm));
    std::sort(crossings.begin(), crossings.end());
    for (std::size_t i = 0; i + 1 < crossings.size(); i += 2)
        if (crossings[i] < crossings[i + 1]) intervals.push_back({crossings[i], crossings[i + 1]});
    return intervals;
}

}  // namespace fadewright::geometry
