// Grid index: the boxes that may contain a point, by a grid of cells with the boxes that touch them.
#pragma once

#include "fadewright/spray/pass_segment.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <span>
#include <vector>

namespace fadewright::spray {

// The cells over an area, which may have no width or height.
class GridCells {
public:
    GridCells() = default;
    explicit GridCells(geometry::Box area) : area_(area) {
        const double width = area.x1 - area.x0, height = area.y1 - area.y0;
        if (!(width > 0) || !(height > 0)) return;
        const double side = std::max(width, height) / kLongSideCells;
        columns_ = std::max(1, static_cast<int>(std::ceil(width / side)));
        rows_ = std::max(1, static_cast<int>(std::ceil(height / side)));
        per_mm_ = 1 / side;
    }

    [[nodiscard]] std::size_t size() const noexcept {
        return static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_);
    }
    [[nodiscard]] bool contains(double x, double y) const noexcept {
        return size() > 0 && x >= area_.x0 && x <= area_.x1 && y >= area_.y0 && y <= area_.y1;
    }
    [[nodiscard]] std::size_t at(double x, double y) const noexcept { return cell(column(x), row(y)); }

    // Cells that the box touches inside the area.
    template <class Work>
    void for_each_cell(const geometry::Box& b, const Work& work) const {
        if (size() == 0 || b.x1 < area_.x0 || b.x0 > area_.x1 || b.y1 < area_.y0 || b.y0 > area_.y1) return;
        for (int y = row(b.y0); y <= row(b.y1); ++y)
            for (int x = column(b.x0); x <= column(b.x1); ++x) work(cell(x, y));
    }

private:
    static constexpr double kLongSideCells = 64;

    [[nodiscard]] int column(double x) const noexcept {
        return static_cast<int>(std::clamp((x - area_.x0) * per_mm_, 0.0, columns_ - 1.0));
    }
    [[nodiscard]] int row(double y) const noexcept {
        return static_cast<int>(std::clamp((y - area_.y0) * per_mm_, 0.0, rows_ - 1.0));
    }
    [[nodiscard]] std::size_t cell(int x, int y) const noexcept {
        return static_cast<std::size_t>(y) * static_cast<std::size_t>(columns_) + static_cast<std::size_t>(x);
    }

    geometry::Box area_{0, 0, 0, 0};
    int columns_ = 0, rows_ = 0;
    double per_mm_ = 0;
};

// The items of all cells in one list.
template <class Item>
class CellLists {
public:
    CellLists() = default;
    explicit CellLists(const std::vector<std::vector<Item>>& cells) {
        starts_.push_back(0);
        for (const auto& cell : cells) {
            items_.insert(items_.end(), cell.begin(), cell.end());
            starts_.push_back(items_.size());
        }
    }
    [[nodiscard]] std::span<const Item> of(std::size_t cell) const noexcept {
        return {items_.data() + starts_[cell], starts_[cell + 1] - starts_[cell]};
    }

private:
    std::vector<std::size_t> starts_;
    std::vector<Item> items_;
};

// Boxes outside `area` are not found there.
class GridIndex {
public:
    GridIndex() = default;
    GridIndex(const std::vector<geometry::Box>& boxes, geometry::Box area) : cells_(area) {
        std::vector<std::vector<std::uint32_t>> lists(cells_.size());
        for (std::size_t i = 0; i < boxes.size(); ++i)
            cells_.for_each_cell(
                boxes[i], [&](std::size_t cell) { lists[cell].push_back(static_cast<std::uint32_t>(i)); });
        lists_ = CellLists<std::uint32_t>(lists);
    }

    // In increasing order; some may not contain the point.
    [[nodiscard]] std::span<const std::uint32_t> candidates(double x, double y) const noexcept {
        if (!cells_.contains(x, y)) return {};
        return lists_.of(cells_.at(x, y));
    }

private:
    GridCells cells_;
    CellLists<std::uint32_t> lists_;
};

// The same for boxes of which neighbours have consecutive indices: runs of indices.
class RunGridIndex {
public:
    struct Run {
        std::uint32_t first, end;
    };

    RunGridIndex() = default;
    RunGridIndex(const std::vector<geometry::Box>& boxes, geometry::Box area) : cells_(area) {
        std::vector<std::vector<Run>> lists(cells_.size());
        for (std::size_t i = 0; i < boxes.size(); ++i)
            cells_.for_each_cell(boxes[i], [&](std::size_t cell) {
                const auto number = static_cast<std::uint32_t>(i);
                std::vector<Run>& runs = lists[cell];
                if (!runs.empty() && number - runs.back().end <= kMaxGap)
                    runs.back().end = number + 1;
                else
                    runs.push_back({number, number + 1});
            });
        lists_ = CellLists<Run>(lists);
    }

    [[nodiscard]] std::span<const Run> candidates(double x, double y) const noexcept {
        if (!cells_.contains(x, y)) return {};
        return lists_.of(cells_.at(x, y));
    }

private:
    static constexpr std::uint32_t kMaxGap = 4;  // bridged rather than begin a new run

    GridCells cells_;
    CellLists<Run> lists_;
};

}  // namespace fadewright::spray
