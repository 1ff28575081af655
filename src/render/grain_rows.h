// Rows of cells of a field of grain (render/grain_field.h), one after the other down a picture.
#pragma once

#include "grain_cells.h"

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace fadewright::render {

// At each level from the root down to that of the pixels it holds the row which the row asked for lies in, from one
// column of cells to another; so each cell is cut once where rows are asked for in their order.
class CellRows {
public:
    // cut_cells: those of the row, counted from the first, that are cut between two pixels. They must outlive this.
    CellRows(const CutKey& key, const CellLevel& level, std::int64_t first, std::int64_t last,
             std::span<const std::size_t> cut_cells);

    // down: the row is cut between two rows of pixels; else b() and d() do not count.
    void to(std::int64_t iy, bool down);

    [[nodiscard]] std::span<const double> means() const noexcept { return rows_.back().means; }
    [[nodiscard]] std::span<const float> b() const noexcept { return rows_.back().b; }
    // Of cut cells only, one beside the other.
    [[nodiscard]] std::span<const float> a() const noexcept { return a_; }
    [[nodiscard]] std::span<const float> d() const noexcept { return d_; }

private:
    struct Row {
        int level;
        double per_side;
        bool known;       // whether it holds a row at all
        std::int64_t at;  // which
        std::span<double> quarters;      // of all cells above
        std::span<const double> means;   // those of this row
        std::span<const std::uint64_t> places;
        std::span<float> a, b, d;
    };

    void cut_row(Row& row);
    void cut_down();
    void cut_across();
    void mix(const Row& row, std::span<const std::uint64_t> places);

    CutKey key_;
    std::span<const std::size_t> cut_cells_;
    std::vector<double> doubles_;
    std::vector<float> floats_;
    std::vector<std::uint64_t> places_;
    std::vector<Row> rows_;
    std::vector<std::uint64_t> cut_places_, bits_;
    std::vector<float> a_, d_;
    bool has_a_ = false, has_all_ = false;  // of the last row
};

}  // namespace fadewright::render
