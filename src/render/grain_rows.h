// Rows of cells of a noise field (render/grain_field.h), one after the other down a picture.
#pragma once

#include "fadewright/kernels/haar_rows.h"
#include "grain_cells.h"

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace fadewright::render {

// Rows from one column of cells to another. Every level from the root down stores one row, so that each cell
// is calculated once if rows are requested in order.
class CellRows {
public:
    // split_cells: indices of the cells divided between two pixels.
    CellRows(const HaarKey& key, const CellLevel& level, std::int64_t first, std::int64_t last,
             std::span<const std::size_t> split_cells);

    // Parent cells, as large as four of this level, in a row of their own; none above a root. The first cell
    // of this level is the left or the right half of its parent.
    [[nodiscard]] bool has_above() const noexcept { return !above_.empty(); }
    [[nodiscard]] const kernels::HaarRow& above(std::int64_t row);
    [[nodiscard]] std::size_t halves_before() const noexcept { return static_cast<std::size_t>(first_ & 1); }

    // The numbers that divide the cells of a row from top to bottom, and split_cells from left to right and
    // diagonally. b and d are filled only for a row that is divided from top to bottom.
    struct SplitRow {
        std::span<const float> b;
        std::span<const float> a_of_split, d_of_split;
    };
    [[nodiscard]] SplitRow unsplit_row(std::int64_t row);
    [[nodiscard]] SplitRow split_row(std::int64_t row);

private:
    struct Row {
        int level = 0;
        bool valid = false;  // a row is stored
        std::int64_t index = 0;
        std::span<const std::uint32_t> columns;
        std::span<double> quarters;  // of all cells of the row above
        std::span<float> a, b, d;
        kernels::HaarRow cells;
    };

    void allocate(const CellLevel& level, std::int64_t last);
    void fill_normals(Split split, int level, std::int64_t row, std::span<const std::uint32_t> columns,
                      std::span<float> out) const;
    void split_all(Row& row) const;

    HaarKey key_;
    int level_;
    std::int64_t first_;
    std::vector<double> doubles_;  // storage of all levels
    std::vector<float> floats_;
    std::vector<std::uint32_t> all_columns_;
    std::vector<Row> above_;
    std::vector<std::uint32_t> columns_, split_columns_;
    std::vector<float> a_, b_, d_;
    bool valid_ = false;
    std::int64_t row_ = 0;  // the row of b and d
};

}  // namespace fadewright::render
