#include "scanline_index.h"

#include <algorithm>

namespace fadewright::spray {
namespace {

constexpr std::size_t kMinBuckets = 16;
constexpr std::size_t kMaxBuckets = 8192;

}  // namespace

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

}  // namespace fadewright::spray
