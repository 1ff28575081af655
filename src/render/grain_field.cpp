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

struct Key {
    std::uint64_t seed, stream;
};

// The three numbers that cut a cell.
struct Cut {
    double a, b, d;  // left against right, top against bottom, crosswise
};

Cut cut_of(Key key, int level, std::int64_t ix, std::int64_t iy) noexcept {
    // Level and place as one number, 29 bits for each coordinate.
    constexpr int kPlaceBits = 29;
    constexpr std::uint64_t kPlace = (1ull << kPlaceBits) - 1;
    const std::uint64_t index = static_cast<std::uint64_t>(level) << (2 * kPlaceBits) |
                                (static_cast<std::uint64_t>(ix) & kPlace) << kPlaceBits |
                                (static_cast<std::uint64_t>(iy) & kPlace);
    const std::uint64_t bits = random_bits(key.seed, key.stream, index);
    // 64 bits make three numbers of 21; the half keeps them off 0 and 1.
    constexpr int kBits = 21;
    const auto normal = [bits](int from) {
        const std::uint64_t part = bits >> from & ((1ull << kBits) - 1);
        return normal_quantile((static_cast<double>(part) + 0.5) / (1ull << kBits));
    };
    return {normal(0), normal(kBits), normal(2 * kBits)};
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

double quarter(double mean, const Cut& cut, double side_mm, bool right, bool lower) noexcept {
    const double x = right ? -1 : 1;
    const double y = lower ? -1 : 1;
    return mean + (x * cut.a + y * cut.b + x * y * cut.d) / side_mm;
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

double mean_of_cell(Key key, const Level& level, std::int64_t ix, std::int64_t iy) noexcept {
    double mean = 0;
    double side = kGrainRoot_mm;
    for (int up = level.number; up > 0; --up) {
        const bool right = ix >> (up - 1) & 1;
        const bool lower = iy >> (up - 1) & 1;
        mean = quarter(mean, cut_of(key, level.number - up, ix >> up, iy >> up), side, right, lower);
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
};

// The means of a block, by way of its ancestors.
Block expanded(Key key, const Level& level, std::int64_t x0, std::int64_t y0, std::int64_t x1,
               std::int64_t y1) {
    Block above;
    double side = kGrainRoot_mm;
    for (int up = level.number; up >= 0; --up) {
        Block here{x0 >> up, y0 >> up, (x1 >> up) - (x0 >> up) + 1, (y1 >> up) - (y0 >> up) + 1, {}};
        here.means.resize(static_cast<std::size_t>(here.columns * here.rows), 0.0);
        if (up == level.number) {
            above = std::move(here);
            continue;
        }
        const auto index = [&](std::int64_t ix, std::int64_t iy) {
            return static_cast<std::size_t>((iy - here.y0) * here.columns + ix - here.x0);
        };
        for (std::int64_t py = above.y0; py < above.y0 + above.rows; ++py)
            for (std::int64_t px = above.x0; px < above.x0 + above.columns; ++px) {
                const Cut cut = cut_of(key, level.number - up - 1, px, py);
                const double mean = above.at(px, py);
                for (int child = 0; child < 4; ++child) {
                    const std::int64_t ix = 2 * px + child % 2, iy = 2 * py + child / 2;
                    if (ix < here.x0 || ix >= here.x0 + here.columns) continue;
                    if (iy < here.y0 || iy >= here.y0 + here.rows) continue;
                    here.means[index(ix, iy)] = quarter(mean, cut, side, child % 2 == 1, child / 2 == 1);
                }
            }
        side /= 2;
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

// Row of cells by row of cells: first along the row into the columns of pixels, once for whole and once for
// cut cells, then down into the one or two rows of pixels that the cells lie in.
void GrainField::means(const GrainGrid& grid, std::span<double> means_per_mm) const {
    FW_EXPECTS(grid.columns >= 0 && grid.rows >= 0);
    FW_EXPECTS(means_per_mm.size() ==
               static_cast<std::size_t>(grid.columns) * static_cast<std::size_t>(grid.rows));
    if (means_per_mm.empty()) return;
    const Level level = level_within(grid.pixel_mm);
    const Key key{seed_, stream_};
    const double c = level.side_mm;
    const Axis across(grid.x0_mm, grid.first_column, grid.columns, grid.pixel_mm, level);
    const Axis down(grid.y0_mm, grid.first_row, grid.rows, grid.pixel_mm, level);
    const std::int64_t x0 = across.stretch(0).first, x1 = across.stretch(grid.columns - 1).last;
    const std::int64_t y0 = down.stretch(0).first, y1 = down.stretch(grid.rows - 1).last;
    const Block cells = expanded(key, level, x0, y0, x1, y1);

    struct Column {
        std::int64_t cell;
        std::size_t pixel;
        Part part;
    };
    std::vector<Column> columns;
    for (int i = 0; i < grid.columns; ++i)
        for (std::int64_t ix = across.stretch(i).first; ix <= across.stretch(i).last; ++ix)
            columns.push_back({ix - x0, static_cast<std::size_t>(i), across.part(i, ix)});

    const auto width = static_cast<std::size_t>(grid.columns);
    std::vector<Cut> cuts(static_cast<std::size_t>(x1 - x0 + 1));
    std::vector<double> whole(width), cut_across(width);
    std::fill(means_per_mm.begin(), means_per_mm.end(), 0.0);
    const double scale = 1 / (grid.pixel_mm * grid.pixel_mm);
    int row = 0;
    for (std::int64_t iy = y0; iy <= y1; ++iy) {
        for (std::size_t i = 0; i < cuts.size(); ++i)
            cuts[i] = cut_of(key, level.number, x0 + static_cast<std::int64_t>(i), iy);
        std::fill(whole.begin(), whole.end(), 0.0);
        std::fill(cut_across.begin(), cut_across.end(), 0.0);
        for (const Column& at : columns) {
            const Cut& cut = cuts[static_cast<std::size_t>(at.cell)];
            whole[at.pixel] += c * cells.at(x0 + at.cell, iy) * at.part.u + cut.a * at.part.s;
            cut_across[at.pixel] += cut.b * at.part.u + cut.d * at.part.s;
        }
        while (down.stretch(row).last < iy) ++row;
        for (int r = row; r < grid.rows && down.stretch(r).first <= iy; ++r) {
            const Part part = down.part(r, iy);
            double* out = &means_per_mm[static_cast<std::size_t>(r) * width];
            for (std::size_t i = 0; i < width; ++i)
                out[i] += scale * c * (part.u * whole[i] + part.s * cut_across[i]);
        }
    }
}

}  // namespace fadewright::render
