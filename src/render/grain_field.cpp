#include "fadewright/render/grain_field.h"

#include "fadewright/base/contract.h"
#include "fadewright/base/normal.h"
#include "fadewright/base/random.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

namespace fadewright::render {
namespace {

// What all cells of a field share: random_bits() of seed and stream as far as it goes without the cell.
struct Key {
    std::uint64_t mixed;
    const NormalSteps& steps = normal_steps();

    Key(std::uint64_t seed, std::uint64_t stream) noexcept : mixed(mixed_bits(mixed_bits(seed) ^ stream)) {}
};

// The three numbers that cut a cell.
struct Cut {
    double a, b, d;  // left against right, top against bottom, crosswise
};

Cut cut_of(const Key& key, int level, std::int64_t ix, std::int64_t iy) noexcept {
    // Level and place as one number, 29 bits for each coordinate.
    constexpr int kPlaceBits = 29;
    constexpr std::uint64_t kPlace = (1ull << kPlaceBits) - 1;
    const std::uint64_t index = static_cast<std::uint64_t>(level) << (2 * kPlaceBits) |
                                (static_cast<std::uint64_t>(ix) & kPlace) << kPlaceBits |
                                (static_cast<std::uint64_t>(iy) & kPlace);
    const std::uint64_t bits = mixed_bits(key.mixed ^ index);
    const auto normal = [&](int from) {
        return static_cast<double>(key.steps[bits >> from & (key.steps.size() - 1)]);
    };
    return {normal(9), normal(30), normal(51)};
}

// Cells of one level.
struct Level {
    int number = 0;
    double side_mm = kGrainRoot_mm;
};

// The coarsest whose cells fit into the patch (but for rounding of its edges).
Level level_within(double patch_mm) {
    FW_EXPECTS(patch_mm > kFinestGrain_mm * (1 - 1e-6));
    Level level;
    while (level.side_mm > patch_mm * (1 + 1e-9)) {
        level.side_mm /= 2;
        ++level.number;
    }
    return level;
}

double quarter(double mean, const Cut& cut, double per_side, bool right, bool lower) noexcept {
    const double x = right ? -1 : 1;
    const double y = lower ? -1 : 1;
    return mean + (x * cut.a + y * cut.b + x * y * cut.d) * per_side;
}

std::int64_t cell_at(double mm, const Level& level) noexcept {
    return static_cast<std::int64_t>(std::floor(mm / level.side_mm));
}

// Part of a cell that a stretch of the axis covers.
struct Part {
    double u = 1;  // share of the cell
    double s = 0;  // root of u (1 - u), negative if the far end is covered
};

Part part_of(std::int64_t cell, const Level& level, double from_mm, double to_mm) noexcept {
    const double start = static_cast<double>(cell) * level.side_mm;
    const double before = std::max(0.0, from_mm - start) / level.side_mm;
    const double after = std::max(0.0, start + level.side_mm - to_mm) / level.side_mm;
    const double u = std::max(0.0, 1 - before - after);
    const double s = std::sqrt(u * std::min(1.0, before + after));
    return {u, before > after ? -s : s};
}

double mean_of_cell(const Key& key, const Level& level, std::int64_t ix, std::int64_t iy) noexcept {
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

// A block of cells of one level, row by row.
struct Block {
    std::int64_t x0, y0;  // first cell
    std::int64_t columns, rows;
    std::vector<double> means;

    [[nodiscard]] double at(std::int64_t ix, std::int64_t iy) const {
        return means[static_cast<std::size_t>((iy - y0) * columns + ix - x0)];
    }
    // None outside the block.
    [[nodiscard]] double* row(std::int64_t iy) {
        if (iy < y0 || iy >= y0 + rows) return nullptr;
        return means.data() + (iy - y0) * columns;
    }
};

// The quarters of a block's cells, as far as they lie in `here`.
void cut_up(const Key& key, int level, double side_mm, const Block& above, Block& here) {
    const double per_side = 1 / side_mm;
    for (std::int64_t py = above.y0; py < above.y0 + above.rows; ++py) {
        double *upper = here.row(2 * py), *lower = here.row(2 * py + 1);
        for (std::int64_t px = above.x0; px < above.x0 + above.columns; ++px) {
            const Cut cut = cut_of(key, level, px, py);
            const double mean = above.at(px, py);
            const std::int64_t left = 2 * px - here.x0, right = left + 1;
            if (left >= 0) {
                if (upper) upper[left] = quarter(mean, cut, per_side, false, false);
                if (lower) lower[left] = quarter(mean, cut, per_side, false, true);
            }
            if (right < here.columns) {
                if (upper) upper[right] = quarter(mean, cut, per_side, true, false);
                if (lower) lower[right] = quarter(mean, cut, per_side, true, true);
            }
        }
    }
}

// The means of a block, by way of its ancestors.
Block expanded(const Key& key, const Level& level, std::int64_t x0, std::int64_t y0, std::int64_t x1,
               std::int64_t y1) {
    Block above;
    double side = kGrainRoot_mm;
    for (int up = level.number; up >= 0; --up) {
        Block here{x0 >> up, y0 >> up, (x1 >> up) - (x0 >> up) + 1, (y1 >> up) - (y0 >> up) + 1, {}};
        here.means.resize(static_cast<std::size_t>(here.columns * here.rows), 0.0);
        if (up < level.number) {
            cut_up(key, level.number - up - 1, side, above, here);
            side /= 2;
        }
        above = std::move(here);
    }
    return above;
}

// Parts of cells that belong to one pixel, along one axis.
struct Stretch {
    std::int64_t first, last;  // cells
};

// Edges of pixels along one axis.
class Axis {
public:
    Axis(double origin_mm, int first, int count, double pixel_mm, const Level& level)
        : origin_(origin_mm), first_(first), pixel_(pixel_mm), level_(level) {
        for (int i = 0; i < count; ++i)
            stretches_.push_back(
                {cell_at(edge(i), level_), std::max(cell_at(edge(i), level_), last_below(edge(i + 1)))});
    }

    [[nodiscard]] const Stretch& stretch(int pixel) const {
        return stretches_[static_cast<std::size_t>(pixel)];
    }
    [[nodiscard]] Part part(int pixel, std::int64_t cell) const {
        return part_of(cell, level_, edge(pixel), edge(pixel + 1));
    }

private:
    [[nodiscard]] double edge(int i) const { return origin_ + (first_ + i) * pixel_; }
    // The last cell that begins before the edge.
    [[nodiscard]] std::int64_t last_below(double mm) const {
        return static_cast<std::int64_t>(std::ceil(mm / level_.side_mm)) - 1;
    }

    double origin_;
    int first_;
    double pixel_;
    Level level_;
    std::vector<Stretch> stretches_;
};

}  // namespace

double GrainField::mean_over(double x0_mm, double y0_mm, double x1_mm, double y1_mm) const {
    const Level level = level_within(std::min(x1_mm - x0_mm, y1_mm - y0_mm));
    const Key key{seed_, stream_};
    const double c = level.side_mm;
    double sum = 0;
    for (std::int64_t iy = cell_at(y0_mm, level); static_cast<double>(iy) * c < y1_mm; ++iy)
        for (std::int64_t ix = cell_at(x0_mm, level); static_cast<double>(ix) * c < x1_mm; ++ix) {
            const Part x = part_of(ix, level, x0_mm, x1_mm);
            const Part y = part_of(iy, level, y0_mm, y1_mm);
            const Cut cut = cut_of(key, level.number, ix, iy);
            const double mean = mean_of_cell(key, level, ix, iy);
            sum += c * c * mean * x.u * y.u + c * (cut.a * x.s * y.u + cut.b * x.u * y.s + cut.d * x.s * y.s);
        }
    return sum / ((x1_mm - x0_mm) * (y1_mm - y0_mm));
}

namespace {

// One row of cells put together into the columns of pixels: what is whole and what is cut the other way.
class RowSums {
public:
    RowSums(const Axis& across, int pixels, std::int64_t x0, std::int64_t x1)
        : whole(static_cast<std::size_t>(pixels)),
          cut_across(static_cast<std::size_t>(pixels)),
          cuts_(static_cast<std::size_t>(x1 - x0 + 1)),
          x0_(x0) {
        for (int i = 0; i < pixels; ++i) {
            for (std::int64_t ix = across.stretch(i).first; ix <= across.stretch(i).last; ++ix)
                add(static_cast<std::size_t>(ix - x0), across.part(i, ix));
            ends_.push_back(pieces_.size());
        }
    }

    // cut_down: the row of cells is cut between two rows of pixels; else nothing is cut the other way.
    void add_up(const Key& key, const Level& level, Block& cells, std::int64_t iy, bool cut_down) {
        const auto work_out = [&](std::size_t cell) {
            cuts_[cell] = cut_of(key, level.number, x0_ + static_cast<std::int64_t>(cell), iy);
        };
        const double* means = cells.row(iy);
        if (cut_down) {
            for (std::size_t cell = 0; cell < cuts_.size(); ++cell) work_out(cell);
            add_pieces(means, level.side_mm, true);
        } else {
            for (const std::size_t cell : cut_cells_) work_out(cell);
            add_pieces(means, level.side_mm, false);
        }
    }

    std::vector<double> whole, cut_across;

private:
    struct Piece {
        std::size_t cell;
        Part part;
    };

    void add(std::size_t cell, const Part& part) {
        pieces_.push_back({cell, part});
        if (part.s != 0 && (cut_cells_.empty() || cut_cells_.back() != cell)) cut_cells_.push_back(cell);
    }

    void add_pieces(const double* means, double side_mm, bool cut_down) {
        std::size_t piece = 0;
        for (std::size_t pixel = 0; pixel < whole.size(); ++pixel) {
            double sum = 0, crosswise = 0;
            for (; piece < ends_[pixel]; ++piece) {
                const Piece& p = pieces_[piece];
                const Cut& cut = cuts_[p.cell];
                sum += side_mm * means[p.cell] * p.part.u + cut.a * p.part.s;
                if (cut_down) crosswise += cut.b * p.part.u + cut.d * p.part.s;
            }
            whole[pixel] = sum;
            cut_across[pixel] = crosswise;
        }
    }

    std::vector<Piece> pieces_;
    std::vector<std::size_t> ends_;       // of each pixel's pieces
    std::vector<std::size_t> cut_cells_;  // between two columns of pixels
    std::vector<Cut> cuts_;
    std::int64_t x0_;
};

}  // namespace

// Row of cells by row of cells: first along the row into the columns of pixels, once for whole and once for
// cut cells, then down into the one or two rows of pixels that the cells lie in.
void GrainField::means(const GrainGrid& grid, std::span<double> means_per_mm) const {
    FW_EXPECTS(grid.columns >= 0 && grid.rows >= 0);
    FW_EXPECTS(means_per_mm.size() ==
               static_cast<std::size_t>(grid.columns) * static_cast<std::size_t>(grid.rows));
    if (means_per_mm.empty()) return;
    const Level level = level_within(grid.pixel_mm);
    const Key key{seed_, stream_};
    const Axis across(grid.x0_mm, grid.first_column, grid.columns, grid.pixel_mm, level);
    const Axis down(grid.y0_mm, grid.first_row, grid.rows, grid.pixel_mm, level);
    const std::int64_t x0 = across.stretch(0).first, x1 = across.stretch(grid.columns - 1).last;
    const std::int64_t y0 = down.stretch(0).first, y1 = down.stretch(grid.rows - 1).last;
    Block cells = expanded(key, level, x0, y0, x1, y1);
    RowSums sums(across, grid.columns, x0, x1);
    const auto width = static_cast<std::size_t>(grid.columns);
    std::fill(means_per_mm.begin(), means_per_mm.end(), 0.0);
    const double scale = level.side_mm / (grid.pixel_mm * grid.pixel_mm);
    int row = 0;
    for (std::int64_t iy = y0; iy <= y1; ++iy) {
        while (down.stretch(row).last < iy) ++row;
        sums.add_up(key, level, cells, iy, down.part(row, iy).s != 0);
        for (int r = row; r < grid.rows && down.stretch(r).first <= iy; ++r) {
            const Part part = down.part(r, iy);
            double* out = &means_per_mm[static_cast<std::size_t>(r) * width];
            for (std::size_t i = 0; i < width; ++i)
                out[i] += scale * (part.u * sums.whole[i] + part.s * sums.cut_across[i]);
        }
    }
}

}  // namespace fadewright::render
