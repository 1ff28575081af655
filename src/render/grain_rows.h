// Rows of cells of a field of grain (render/grain_field.h), one after the other down a picture.
#pragma once

#include "fadewright/kernels/haar_rows.h"
#include "grain_cells.h"

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace fadewright::render {

// From one column of cells to another. At each level from the root down it holds one row, so that each cell is worked
// out once where rows are asked for in their order.
class CellRows {
public:
    // Some cells are cut between two pixels: cut_cells, counted from the first.
    CellRows(const HaarKey& key, const CellLevel& level, std::int64_t first, std::int64_t last,
             std::span<const std::size_t> split_cells);

    // Cells as large as four of the level's, in a row of their own; none above a root. The first of the level's is the
    // left or the right half of theirs.
    [[nodiscard]] bool has_above() const noexcept { return !above_.empty(); }
    [[nodiscard]] const kernels::HaarRow& above(std::int64_t row);
    [[nodiscard]] std::size_t halves_before() const noexcept { return static_cast<std::size_t>(first_ & 1); }

    // What cuts the cells of a row from top to bottom, and cut_cells from left to right and crosswise. b and d are only
    // there for a row that is cut from top to bottom.
    struct SplitRow {
        std::span<const float> b;
        std::span<const float> a_of_split, d_of_split;
    };
    [[nodiscard]] SplitRow unsplit_row(std::int64_t row);
    [[nodiscard]] SplitRow split_row(std::int64_t row);

private:
    struct Row {
        int level = 0;
        bool valid = false;  // whether it holds any row yet
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
    std::vector<double> doubles_;  // of all rows above, and so on
    std::vector<float> floats_;
    std::vector<std::uint32_t> all_columns_;
    std::vector<Row> above_;
    std::vector<std::uint32_t> columns_, split_columns_;
    std::vector<float> a_, b_, d_;
    bool valid_ = false;
    std::int64_t row_ = 0;  // the row that b and d are of
};

}  // namespace fadewright::render
