#include "fadewright/render/grain_field.h"

#include "fadewright/base/contract.h"
#include "fadewright/kernels/cell_rows.h"
#include "grain_cells.h"
#include "grain_pixels.h"
#include "grain_rows.h"

#include <algorithm>
#include <cstddef>
#include <vector>

namespace fadewright::render {
namespace {

// The three numbers that cut a cell.
struct Cut {
    double a, b, d;
};

Cut cut_of(const CutKey& key, int level, std::int64_t ix, std::int64_t iy) noexcept {
    const std::uint64_t bits = mixed_bits(key.mixed() ^ (row_of(level, iy) | place_of(ix)));
    return {key.a(bits), key.b(bits), key.d(bits)};
}

double quarter(double mean, const Cut& cut, double per_side, bool right, bool lower) noexcept {
    const double x = right ? -1 : 1;
    const double y = lower ? -1 : 1;
    return mean + (x * cut.a + y * cut.b + x * y * cut.d) * per_side;
}

double mean_of_cell(const CutKey& key, const CellLevel& level, std::int64_t ix, std::int64_t iy) noexcept {
    double mean = 0;
    double side = kGrainRoot_mm;
    for (int up = level.number; up > 0; --up) {
        const bool right = ix >> (up - 1) & 1;
        const bool lower = iy >> (up - 1) & 1;
        mean = quarter(mean, cut_of(key, level.number - up, ix >> up, iy >> up), 1 / side, right, lower);
        side /= 2;
    }
    return mean;
}

}  // namespace

double GrainField::mean_over(double x0_mm, double y0_mm, double x1_mm, double y1_mm) const {
    const CellLevel level = level_within(std::min(x1_mm - x0_mm, y1_mm - y0_mm));
    const CutKey key{seed_, stream_};
    const double c = level.side_mm;
    double sum = 0;
    for (std::int64_t iy = cell_at(y0_mm, level); static_cast<double>(iy) * c < y1_mm; ++iy)
        for (std::int64_t ix = cell_at(x0_mm, level); static_cast<double>(ix) * c < x1_mm; ++ix) {
            const CellPart x = part_of(ix, level, x0_mm, x1_mm);
            const CellPart y = part_of(iy, level, y0_mm, y1_mm);
            const Cut cut = cut_of(key, level.number, ix, iy);
            const double mean = mean_of_cell(key, level, ix, iy);
            sum += c * c * mean * x.u * y.u + c * (cut.a * x.s * y.u + cut.b * x.u * y.s + cut.d * x.s * y.s);
        }
    return sum / ((x1_mm - x0_mm) * (y1_mm - y0_mm));
}

// Row of pixels by row of pixels: rows of cells are put together downwards, what they hold and what cut ones hold
// crosswise, and then along the row.
void GrainField::means(const GrainGrid& grid, std::span<double> means_per_mm) const {
    FW_EXPECTS(grid.columns >= 0 && grid.rows >= 0);
    FW_EXPECTS(means_per_mm.size() ==
               static_cast<std::size_t>(grid.columns) * static_cast<std::size_t>(grid.rows));
    if (means_per_mm.empty()) return;
    const CellLevel level = level_within(grid.pixel_mm);
    const PixelAxis across(grid.x0_mm, grid.first_column, grid.columns, grid.pixel_mm, level);
    const PixelAxis down(grid.y0_mm, grid.first_row, grid.rows, grid.pixel_mm, level);
    const PixelRow pixels(across);
    CellRows rows({seed_, stream_}, level, across.first(), across.last(), pixels.cut_cells());
    std::vector<double> cells(across.cells() + 1), crosswise(pixels.cut_cells().size() + 1);
    const std::span<double> sums = std::span(cells).first(across.cells());
    const std::span<double> cut_sums = std::span(crosswise).first(pixels.cut_cells().size());
    const double scale = level.side_mm / (grid.pixel_mm * grid.pixel_mm);
    for (std::size_t r = 0; r < down.pixels(); ++r) {
        std::fill(sums.begin(), sums.end(), 0.0);
        std::fill(cut_sums.begin(), cut_sums.end(), 0.0);
        for (std::int64_t iy = down.first(r); iy <= down.last(r); ++iy) {
            const CellPart part = down.part(r, iy);
            rows.to(iy, part.s != 0);
            if (part.s != 0) {
                kernels::add_times(part.u * level.side_mm, rows.means(), part.s, rows.b(), sums);
                kernels::add_times(part.u, rows.a(), part.s, rows.d(), cut_sums);
            } else {
                kernels::add_times(part.u * level.side_mm, rows.means(), sums);
                kernels::add_times(part.u, rows.a(), cut_sums);
            }
        }
        pixels.sum(cells, crosswise, scale, means_per_mm.subspan(r * across.pixels(), across.pixels()));
    }
}

}  // namespace fadewright::render
