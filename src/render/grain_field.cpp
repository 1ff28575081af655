#include "fadewright/render/grain_field.h"

#include "fadewright/base/contract.h"
#include "fadewright/kernels/haar_rows.h"
#include "fadewright/kernels/hash_gaussian.h"
#include "grain_pyramid.h"

#include <algorithm>
#include <cstddef>
#include <vector>

namespace fadewright::render {
namespace {

// The three numbers that divide a cell.
struct HaarCoefficients {
    double a, b, d;
};

HaarCoefficients haar_coefficients(const HaarKey& key, int level, std::int64_t ix, std::int64_t iy) noexcept {
    const auto of = [&](Split split) {
        return static_cast<double>(kernels::hash_gaussian(key.of_row(level, iy, split), HaarKey::column(ix)));
    };
    return {of(Split::horizontal), of(Split::vertical), of(Split::diagonal)};
}

double quarter(double mean, const HaarCoefficients& coefficients, double per_side, bool right,
               bool lower) noexcept {
    const double x = right ? -1 : 1;
    const double y = lower ? -1 : 1;
    return mean + (x * coefficients.a + y * coefficients.b + x * y * coefficients.d) * per_side;
}

double mean_of_cell(const HaarKey& key, const CellLevel& level, std::int64_t ix, std::int64_t iy) noexcept {
    double mean = 0;
    double side = kGrainRoot_mm;
    for (int up = level.number; up > 0; --up) {
        const bool right = ix >> (up - 1) & 1;
        const bool lower = iy >> (up - 1) & 1;
        mean = quarter(mean, haar_coefficients(key, level.number - up, ix >> up, iy >> up), 1 / side, right,
                       lower);
        side /= 2;
    }
    return mean;
}

}  // namespace

double GrainField::mean_over(double x0_mm, double y0_mm, double x1_mm, double y1_mm) const {
    const CellLevel level = level_for_patch(std::min(x1_mm - x0_mm, y1_mm - y0_mm));
    const HaarKey key{seed_, stream_};
    const double c = level.side_mm;
    double sum = 0;
    for (std::int64_t iy = cell_at(y0_mm, level); static_cast<double>(iy) * c < y1_mm; ++iy)
        for (std::int64_t ix = cell_at(x0_mm, level); static_cast<double>(ix) * c < x1_mm; ++ix) {
            const CellPart x = cell_part(ix, level, x0_mm, x1_mm);
            const CellPart y = cell_part(iy, level, y0_mm, y1_mm);
            const HaarCoefficients coefficients = haar_coefficients(key, level.number, ix, iy);
            const double mean = mean_of_cell(key, level, ix, iy);
            sum += c * c * mean * x.u * y.u +
                   c * (coefficients.a * x.s * y.u + coefficients.b * x.u * y.s + coefficients.d * x.s * y.s);
        }
    return sum / ((x1_mm - x0_mm) * (y1_mm - y0_mm));
}

namespace {

// One row of pixels: vertical sums of its cells, and diagonal sums of the divided ones.
class RowSums {
public:
    RowSums(CellRows& rows, const PixelAxis& across, const PixelRow& pixels, double side_mm)
        : rows_(rows),
          side_mm_(side_mm),
          halves_(rows.halves_before() + across.cells() + PixelRow::kPadding),
          crosswise_(across.pixels() + 1),
          split_count_(pixels.split_cells().size()) {}

    void sum_row(const PixelAxis& down, std::size_t row) {
        std::fill(crosswise_.begin(), crosswise_.end(), 0.0);
        const std::int64_t first = down.first(row), last = down.last(row);
        const auto u = [&](std::int64_t iy) {
            return iy < first || iy > last ? 0 : down.part(row, iy).u * side_mm_;
        };
        if (!rows_.has_above())
            std::fill(halves_.begin(), halves_.end(), 0.0);
        else
            for (std::int64_t above = first >> 1; above <= last >> 1; ++above)
                (above == first >> 1 ? kernels::set_child_rows : kernels::add_child_rows)(
                    rows_.above(above), u(2 * above), u(2 * above + 1), halves_);
        for (std::int64_t iy = first; iy <= last; ++iy) add_splits(iy, down.part(row, iy));
    }

    [[nodiscard]] std::span<const double> cells() const {
        return std::span(halves_).subspan(rows_.halves_before());
    }
    [[nodiscard]] std::span<const double> crosswise() const { return crosswise_; }

private:
    void add_splits(std::int64_t iy, const CellPart& part) {
        if (part.s != 0) {
            const CellRows::SplitRow splits = rows_.split_row(iy);
            kernels::axpy(part.s, splits.b, std::span(halves_).subspan(rows_.halves_before()));
            kernels::axpy(part.u, splits.a_of_split, part.s, splits.d_of_split, crosswise_);
        } else if (split_count_ > 0) {
            kernels::axpy(part.u, rows_.unsplit_row(iy).a_of_split, crosswise_);
        }
    }

    CellRows& rows_;
    double side_mm_;
    std::vector<double> halves_;  // of cells twice as large
    std::vector<double> crosswise_;
    std::size_t split_count_;
};

}  // namespace

// Row by row of pixels: rows of cells are summed vertically, then along the row.
void GrainField::fill_means(const GrainGrid& grid, std::span<double> means_per_mm) const {
    FW_EXPECTS(grid.columns >= 0 && grid.rows >= 0);
    FW_EXPECTS(means_per_mm.size() ==
               static_cast<std::size_t>(grid.columns) * static_cast<std::size_t>(grid.rows));
    if (means_per_mm.empty()) return;
    const CellLevel level = level_for_patch(grid.pixel_mm);
    const PixelAxis across(grid.x0_mm, grid.first_column, grid.columns, grid.pixel_mm, level);
    const PixelAxis down(grid.y0_mm, grid.first_row, grid.rows, grid.pixel_mm, level);
    const PixelRow pixels(across);
    CellRows rows({seed_, stream_}, level, across.first(), across.last(), pixels.split_cells());
    RowSums sums(rows, across, pixels, level.side_mm);
    const double scale = level.side_mm / (grid.pixel_mm * grid.pixel_mm);
    for (std::size_t r = 0; r < down.pixels(); ++r) {
        sums.sum_row(down, r);
        pixels.sum(sums.cells(), sums.crosswise(), scale,
                   means_per_mm.subspan(r * across.pixels(), across.pixels()));
    }
}

}  // namespace fadewright::render
