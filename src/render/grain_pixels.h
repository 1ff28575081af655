// Composition of pixels from cells (render/grain_field.h), along one axis.
#pragma once

#include "grain_cells.h"

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace fadewright::render {

// The cells of each pixel, and the parts of them that it covers. Only its first and its last can be partial.
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

}  // namespace fadewright::render
