// How pixels are made of cells (render/grain_field.h), along one axis.
#pragma once

#include "grain_cells.h"

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace fadewright::render {

// The cells of each pixel, and the parts of them that it covers. Only its first and its last can be cut.
class PixelAxis {
public:
    PixelAxis(double origin_mm, int first, int count, double pixel_mm, const CellLevel& level);

    [[nodiscard]] std::size_t pixels() const noexcept { return stretches_.size(); }
    [[nodiscard]] std::size_t cells() const noexcept {  // of all pixels together
        return static_cast<std::size_t>(stretches_.back().last - first() + 1);
    }
    [[nodiscard]] std::int64_t first() const noexcept { return stretches_.front().first; }
    [[nodiscard]] std::int64_t last() const noexcept { return stretches_.back().last; }
    [[nodiscard]] std::int64_t first(std::size_t pixel) const noexcept { return stretches_[pixel].first; }
    [[nodiscard]] std::int64_t last(std::size_t pixel) const noexcept { return stretches_[pixel].last; }
    [[nodiscard]] CellPart part(std::size_t pixel, std::int64_t cell) const noexcept {
        const Stretch& stretch = stretches_[pixel];
        return cell == stretch.first ? stretch.at_first : cell == stretch.last ? stretch.at_last : CellPart{};
    }

private:
    struct Stretch {
        std::int64_t first, last;
        CellPart at_first, at_last;
    };
    std::vector<Stretch> stretches_;
};

// A row of pixels from a row of cells.
class PixelRow {
public:
    explicit PixelRow(const PixelAxis& across);

    // Cells that are cut between two pixels, counted from the first.
    [[nodiscard]] std::span<const std::size_t> cut_cells() const noexcept { return cut_cells_; }

    // Of what cells hold, and of what cut ones hold crosswise in the order of cut_cells(). Behind the last cell, and
    // behind the last cut one, there is one more value.
    void sum(std::span<const double> cells, std::span<const double> crosswise, double scale,
             std::span<double> out) const;

private:
    struct End {
        std::size_t cut = 0;  // its number among the cut cells
        double s = 0;
    };
    struct Pixel {
        std::size_t first = 0, last = 0;  // cells
        double u_first = 1, u_next = 0, u_last = 0;  // of the first, the next and the last if they are not the same
        End left, right;
    };
    [[nodiscard]] End end_at(std::size_t cell, const CellPart& part);

    std::vector<Pixel> pixels_;
    std::vector<std::size_t> cut_cells_;
};

}  // namespace fadewright::render
