// Rows of cells of a field of grain (render/grain_field.h), one after the other down a picture.
#pragma once

#include "fadewright/kernels/cell_rows.h"
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
    // Some cells are cut between two pixels: cut_cells, counted from the first. They must outlive this.
    CellRows(const CutKey& key, const CellLevel& level, std::int64_t first, std::int64_t last,
             std::span<const std::size_t> cut_cells);

    // Cells as large as four of the level's, in a row of their own; none above a root. The first of the level's is the
    // left or the right half of theirs.
    [[nodiscard]] bool has_above() const noexcept { return !above_.empty(); }
    [[nodiscard]] const kernels::CellRow& above(std::int64_t row);
    [[nodiscard]] std::size_t halves_before() const noexcept { return static_cast<std::size_t>(first_ & 1); }

    // What cuts the cells of a row from top to bottom, and cut_cells from left to right and crosswise. b and d are only
    // there for a row that is cut from top to bottom.
    struct Cuts {
        std::span<const float> b;
        std::span<const float> a_of_cut, d_of_cut;
    };
    [[nodiscard]] Cuts whole(std::int64_t row);
    [[nodiscard]] Cuts cut(std::int64_t row);

private:
    struct Row {
        int level = 0;
        bool known = false;  // whether it holds any row yet
        std::int64_t at = 0;
        std::span<const std::uint64_t> places;
        std::span<double> quarters;  // of all cells of the row above
        std::span<float> a, b, d;
        kernels::CellRow cells;
    };

    void make_room(const CellLevel& level, std::int64_t last);
    void mix(int level, std::int64_t row, std::span<const std::uint64_t> places);
    void cut_all(Row& row);

    CutKey key_;
    int level_;
    std::int64_t first_;
    std::span<const std::size_t> cut_cells_;
    std::vector<double> doubles_;  // of all rows above, and so on
    std::vector<float> floats_;
    std::vector<std::uint64_t> all_places_;
    std::vector<Row> above_;
    std::vector<std::uint64_t> places_, cut_places_, bits_;
    std::vector<float> a_, b_, d_;
    bool known_ = false;
    std::int64_t at_ = 0;  // the row that b and d are of
};

}  // namespace fadewright::render
