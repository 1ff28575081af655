// The Haar pyramid of a noise field (render/grain_field.h): cells, their sizes and the random numbers that
// divide them; pixels composed of cells along one axis; rows of cells, one after the other down a picture.
#pragma once

#include "fadewright/base/random.h"
#include "fadewright/kernels/haar_rows.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace fadewright::render {

// The numbers that divide a cell: left against right, top against bottom, diagonal.
enum class Split : std::uint64_t { horizontal, vertical, diagonal };

// Hash keys of a field. The numbers of a row of cells are hashed normals (kernels/hash_gaussian.h): the key
// is that of the row, the counter that of the column.
class HaarKey {
public:
    HaarKey(std::uint64_t seed, std::uint64_t stream) noexcept
        : mixed_(splitmix64(splitmix64(seed) ^ stream)) {}

    [[nodiscard]] std::uint64_t of_row(int level, std::int64_t iy, Split split) const noexcept {
        constexpr int kRowBits = 56, kCuttingBits = 2;
        constexpr std::uint64_t kRow = (1ull << kRowBits) - 1;
        const std::uint64_t packed = static_cast<std::uint64_t>(level) << (kRowBits + kCuttingBits) |
                                     static_cast<std::uint64_t>(split) << kRowBits |
                                     (static_cast<std::uint64_t>(iy) & kRow);
        return splitmix64(mixed_ ^ packed);
    }
    [[nodiscard]] static std::uint32_t column(std::int64_t ix) noexcept {
        return static_cast<std::uint32_t>(ix);
    }

private:
    std::uint64_t mixed_;
};

// Cells of one size, from the roots down.
struct CellLevel {
    int number;
    double side_mm, per_side;  // powers of two: products with them are exact
};
// The coarsest level whose cells fit into the area (except for rounding of its edges).
[[nodiscard]] CellLevel level_for_patch(double patch_mm);

[[nodiscard]] inline std::int64_t cell_at(double mm, const CellLevel& level) noexcept {
    const double at = mm * level.per_side;
    const auto truncated = static_cast<std::int64_t>(at);
    return static_cast<double>(truncated) > at ? truncated - 1 : truncated;
}

// Part of a cell that an interval of the axis covers.
struct CellPart {
    double u = 1;  // share of the cell
    double s = 0;  // root of u (1 - u), negative if the far end is covered
};
[[nodiscard]] inline CellPart cell_part(std::int64_t cell, const CellLevel& level, double from_mm,
                                        double to_mm) noexcept {
    const double start = static_cast<double>(cell) * level.side_mm;
    const double before = std::max(0.0, from_mm - start) * level.per_side;
    const double after = std::max(0.0, start + level.side_mm - to_mm) * level.per_side;
    if (before == 0 && after == 0) return {};
    const double u = std::max(0.0, 1 - before - after);
    const double s = std::sqrt(u * std::min(1.0, before + after));
    return {u, before > after ? -s : s};
}

// The cells of each pixel along one axis, and the parts of them that it covers; only at its ends partial.
class PixelAxis {
public:
    PixelAxis(double origin_mm, int first, int count, double pixel_mm, const CellLevel& level);

    [[nodiscard]] std::size_t pixels() const noexcept { return ranges_.size(); }
    [[nodiscard]] std::size_t cells() const noexcept {  // of all pixels together
        return static_cast<std::size_t>(ranges_.back().last - first() + 1);
    }
    [[nodiscard]] std::int64_t first() const noexcept { return ranges_.front().first; }
    [[nodiscard]] std::int64_t last() const noexcept { return ranges_.back().last; }
    [[nodiscard]] std::int64_t first(std::size_t pixel) const noexcept { return ranges_[pixel].first; }
    [[nodiscard]] std::int64_t last(std::size_t pixel) const noexcept { return ranges_[pixel].last; }
    [[nodiscard]] CellPart part(std::size_t pixel, std::int64_t cell) const noexcept {
        const CellRange& range = ranges_[pixel];
        return cell == range.first ? range.at_first : cell == range.last ? range.at_last : CellPart{};
    }

private:
    struct CellRange {
        std::int64_t first, last;
        CellPart at_first, at_last;
    };
    std::vector<CellRange> ranges_;
};

// A row of pixels from a row of cells.
class PixelRow {
public:
    explicit PixelRow(const PixelAxis& across);

    // Indices of the first cell of each pixel and of the last of the last one, if any cell is divided between
    // two pixels; empty otherwise.
    [[nodiscard]] std::span<const std::size_t> split_cells() const noexcept { return split_cells_; }

    // Number of values that the spans of sum() hold beyond the cells and the divided cells.
    static constexpr std::size_t kPadding = 2;
    // From the values of cells, and the diagonal values of split_cells() (zero for each edge of a pixel without
    // any).
    void sum(std::span<const double> cells, std::span<const double> crosswise, double scale,
             std::span<double> out) const;

private:
    struct Pixel {
        std::size_t first;       // cell
        double u[3];             // shares of it and of the two next
        double s_first, s_last;  // diagonal
    };
    void add_long_pixels(std::span<const double> cells, double scale, std::span<double> out) const;

    std::vector<Pixel> pixels_;
    // For pixels of more than three cells (larger than the roots): the end of their cells from the fourth on,
    // and the share of the last.
    struct LongPixel {
        std::size_t pixel, end;
        double u_last;
    };
    std::vector<LongPixel> long_pixels_;
    std::vector<std::size_t> split_cells_;
};

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
