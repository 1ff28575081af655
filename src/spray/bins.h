// Which of many boxes hold a place: a grid of cells, each with the boxes that touch it.
#pragma once

#include "fadewright/spray/stroke.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <span>
#include <vector>

namespace fadewright::spray {

class Bins {
public:
    Bins() = default;
    // Boxes outside `area` are not found there.
    Bins(const std::vector<Box>& boxes, Box area) : area_(area) {
        const double width = area.x1 - area.x0, height = area.y1 - area.y0;
        if (boxes.empty() || !(width > 0) || !(height > 0)) return;
        const double side = std::max(width, height) / kAcross;
        across_ = std::max(1, static_cast<int>(std::ceil(width / side)));
        down_ = std::max(1, static_cast<int>(std::ceil(height / side)));
        per_mm_ = 1 / side;
        std::vector<std::vector<std::uint32_t>> cells(static_cast<std::size_t>(across_) *
                                                      static_cast<std::size_t>(down_));
        for (std::size_t i = 0; i < boxes.size(); ++i) {
            const Box& b = boxes[i];
            if (b.x1 < area.x0 || b.x0 > area.x1 || b.y1 < area.y0 || b.y0 > area.y1) continue;
            for (int y = row(b.y0); y <= row(b.y1); ++y)
                for (int x = column(b.x0); x <= column(b.x1); ++x)
                    cells[cell(x, y)].push_back(static_cast<std::uint32_t>(i));
        }
        starts_.push_back(0);
        for (const auto& c : cells) {
            found_.insert(found_.end(), c.begin(), c.end());
            starts_.push_back(found_.size());
        }
    }

    // In increasing order; some of them may not hold the place.
    [[nodiscard]] std::span<const std::uint32_t> near(double x, double y) const noexcept {
        if (starts_.empty() || x < area_.x0 || x > area_.x1 || y < area_.y0 || y > area_.y1) return {};
        const std::size_t c = cell(column(x), row(y));
        return {found_.data() + starts_[c], starts_[c + 1] - starts_[c]};
    }

private:
    static constexpr double kAcross = 64;

    [[nodiscard]] int column(double x) const noexcept {
        return static_cast<int>(std::clamp((x - area_.x0) * per_mm_, 0.0, across_ - 1.0));
    }
    [[nodiscard]] int row(double y) const noexcept {
        return static_cast<int>(std::clamp((y - area_.y0) * per_mm_, 0.0, down_ - 1.0));
    }
    [[nodiscard]] std::size_t cell(int x, int y) const noexcept {
        return static_cast<std::size_t>(y) * static_cast<std::size_t>(across_) + static_cast<std::size_t>(x);
    }

    Box area_{0, 0, 0, 0};
    int across_ = 0, down_ = 0;
    double per_mm_ = 0;
    std::vector<std::size_t> starts_;
    std::vector<std::uint32_t> found_;
};

}  // namespace fadewright::spray
