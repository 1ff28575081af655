#include "row_bands.h"

#include <algorithm>
#include <cmath>

namespace fadewright::spray {
namespace {

constexpr std::size_t kFewestBands = 16;
constexpr std::size_t kMostBands = 8192;
constexpr int kHalvings = 30;        // where rings cross between two corners
constexpr double kStraight = 1e-12;  // of the area of the box: as much may a bent width be off

}  // namespace

RowBands::RowBands(const std::vector<Edge>& edges) {
    std::vector<Riser> risers;
    if (!edges.empty()) left_ = right_ = edges.front().ax;
    for (const Edge& e : edges) {
        levels_.push_back(e.ay);
        left_ = std::min(left_, e.ax);
        right_ = std::max(right_, e.ax);
        if (e.ay == e.by) continue;
        const double slope = (e.bx - e.ax) / (e.by - e.ay);
        risers.push_back(e.ay < e.by ? Riser{e.ax, e.ay, e.by, slope} : Riser{e.bx, e.by, e.ay, slope});
    }
    std::sort(levels_.begin(), levels_.end());
    levels_.erase(std::unique(levels_.begin(), levels_.end()), levels_.end());
    if (risers.empty()) return;
    low_ = levels_.front();
    high_ = levels_.back();
    const std::size_t bands = std::clamp(2 * risers.size(), kFewestBands, kMostBands);
    bands_per_mm_ = static_cast<double>(bands) / (high_ - low_);

    // Count, then fill.
    first_.assign(bands + 1, 0);
    for (const Riser& r : risers)
        for (std::size_t b = band_at(r.y0); b <= band_at(r.y1); ++b) ++first_[b + 1];
    for (std::size_t b = 1; b <= bands; ++b) first_[b] += first_[b - 1];
    risers_.resize(first_.back());
    std::vector<std::size_t> at(first_.begin(), first_.end() - 1);
    for (const Riser& r : risers)
        for (std::size_t b = band_at(r.y0); b <= band_at(r.y1); ++b) risers_[at[b]++] = r;
}

std::size_t RowBands::band_at(double y_mm) const noexcept {
    const double band = (y_mm - low_) * bands_per_mm_;
    return std::min(static_cast<std::size_t>(std::max(band, 0.0)), first_.size() - 2);
}

bool RowBands::inside(double x_mm, double y_mm) const noexcept {
    if (risers_.empty() || !(y_mm >= low_ && y_mm < high_)) return false;
    const std::size_t band = band_at(y_mm);
    bool odd = false;
    for (std::size_t i = first_[band]; i < first_[band + 1]; ++i) {
        const Riser& r = risers_[i];
        odd ^= r.meets(y_mm) && r.x_at(y_mm) <= x_mm;
    }
    return odd;
}

std::vector<Interval> RowBands::spans(double y_mm) const {
    std::vector<Interval> spans;
    if (risers_.empty() || !(y_mm >= low_ && y_mm < high_)) return spans;
    const std::size_t band = band_at(y_mm);
    std::vector<double> crossed;
    for (std::size_t i = first_[band]; i < first_[band + 1]; ++i)
        if (risers_[i].meets(y_mm)) crossed.push_back(risers_[i].x_at(y_mm));
    std::sort(crossed.begin(), crossed.end());
    for (std::size_t i = 0; i + 1 < crossed.size(); i += 2)
        if (crossed[i] < crossed[i + 1]) spans.push_back({crossed[i], crossed[i + 1]});
    return spans;
}

double RowBands::width_mm(double y_mm) const {
    double width = 0;
    for (const Interval& span : spans(y_mm)) width += span.to - span.from;
    return width;
}

// Between the heights of two corners the width changes linearly, unless rings cross there.
double RowBands::area_between(double y0, double y1, int halvings) const {
    const double middle = (y0 + y1) / 2;
    const double width = width_mm(middle);
    const double beside = (width_mm(y0 + (y1 - y0) / 8) + width_mm(y1 - (y1 - y0) / 8)) / 2;
    const double bend = std::abs(width - beside) * (y1 - y0);
    if (halvings == 0 || bend <= kStraight * (high_ - low_) * (right_ - left_)) return width * (y1 - y0);
    return area_between(y0, middle, halvings - 1) + area_between(middle, y1, halvings - 1);
}

double RowBands::area_mm2() const {
    double area = 0;
    for (std::size_t i = 1; i < levels_.size(); ++i)
        area += area_between(levels_[i - 1], levels_[i], kHalvings);
    return area;
}

}  // namespace fadewright::spray
