#include "grain_pyramid.h"

#include <algorithm>
#include <cmath>
#include "fadewright/base/contract.h"
#include "fadewright/kernels/hash_gaussian.h"
#include "fadewright/render/grain_field.h"

namespace fadewright::render {

CellLevel level_for_patch(double patch_mm) {
    FW_EXPECTS(patch_mm > kFinestGrain_mm * (1 - 1e-6));
    CellLevel level{0, kGrainRoot_mm, 1 / kGrainRoot_mm};
    while (level.side_mm > patch_mm * (1 + 1e-9))
        level = {level.number + 1, level.side_mm / 2, level.per_side * 2};
    return level;
}

namespace {

// An edge between two pixels and the parts of its cell that they cover: the pixel before it the part before,
// the pixel after it the rest.
struct Edge {
    double mm;
    std::int64_t before,
        after;  // last cell of the first pixel, first of the second; different where no cell is divided
    CellPart of_before, of_after;
};

Edge edge_at(double mm, const CellLevel& level) {
    const std::int64_t cell = cell_at(mm, level);
    const double u = (mm - static_cast<double>(cell) * level.side_mm) * level.per_side;
    if (u == 0) return {mm, cell - 1, cell, {}, {}};
    const double s = std::sqrt((1 - u) * u);
    return {mm, cell, cell, {u, s}, {1 - u, -s}};
}

}  // namespace

PixelAxis::PixelAxis(double origin_mm, int first, int count, double pixel_mm, const CellLevel& level) {
    ranges_.reserve(static_cast<std::size_t>(count));
    Edge from = edge_at(origin_mm + first * pixel_mm, level);
    for (int i = first; i < first + count; ++i) {
        const Edge to = edge_at(origin_mm + (i + 1) * pixel_mm, level);
        if (from.after < to.before) {
            ranges_.push_back({from.after, to.before, from.of_after, to.of_before});
        } else {
            const CellPart part = cell_part(from.after, level, from.mm, to.mm);
            ranges_.push_back({from.after, from.after, part, part});
        }
        from = to;
    }
}

PixelRow::PixelRow(const PixelAxis& across) {
    pixels_.reserve(across.pixels());
    split_cells_.reserve(across.pixels() + 1);
    bool any_split = false;
    for (std::size_t i = 0; i < across.pixels(); ++i) {
        const std::int64_t first = across.first(i), last = across.last(i);
        Pixel entry{static_cast<std::size_t>(first - across.first()), {}, 0, 0};
        for (std::int64_t cell = first; cell <= std::min(last, first + 2); ++cell)
            entry.u[cell - first] = across.part(i, cell).u;
        entry.s_first = across.part(i, first).s;
        if (last > first) entry.s_last = across.part(i, last).s;
        if (last > first + 2)
            long_pixels_.push_back(
                {i, static_cast<std::size_t>(last - across.first()), across.part(i, last).u});
        any_split = any_split || entry.s_first != 0 || entry.s_last != 0;
        pixels_.push_back(entry);
        split_cells_.push_back(entry.first);
    }
    split_cells_.push_back(static_cast<std::size_t>(across.last() - across.first()));
    if (!any_split) split_cells_.clear();
}

void PixelRow::sum(std::span<const double> cells, std::span<const double> crosswise, double scale,
                   std::span<double> out) const {
    const double* diagonal = crosswise.data();
    double* to = out.data();
    for (const Pixel& p : pixels_) {
        const double* cell = cells.data() + p.first;
        *to++ = scale * (p.u[0] * cell[0] + p.u[1] * cell[1] + p.u[2] * cell[2] + p.s_first * diagonal[0] +
                         p.s_last * diagonal[1]);
        ++diagonal;
    }
    if (!long_pixels_.empty()) add_long_pixels(cells, scale, out);
}

void PixelRow::add_long_pixels(std::span<const double> cells, double scale, std::span<double> out) const {
    for (const LongPixel& entry : long_pixels_) {
        double sum = entry.u_last * cells[entry.end];
        for (std::size_t cell = pixels_[entry.pixel].first + 3; cell < entry.end; ++cell) sum += cells[cell];
        out[entry.pixel] += scale * sum;
    }
}

namespace {

std::size_t count_of(std::int64_t first, std::int64_t last) {
    return static_cast<std::size_t>(last - first + 1);
}

}  // namespace

CellRows::CellRows(const HaarKey& key, const CellLevel& level, std::int64_t first, std::int64_t last,
                   std::span<const std::size_t> split_cells)
    : key_(key), level_(level.number), first_(first) {
    allocate(level, last);
    columns_.reserve(count_of(first, last));
    for (std::int64_t ix = first; ix <= last; ++ix) columns_.push_back(HaarKey::column(ix));
    split_columns_.reserve(split_cells.size());
    for (const std::size_t cell : split_cells) split_columns_.push_back(columns_[cell]);
    a_.resize(split_columns_.size());
    b_.resize(columns_.size());
    d_.resize(split_columns_.size());
}

void CellRows::allocate(const CellLevel& level, std::int64_t last) {
    std::size_t cells = 0, halves = 0;
    for (int up = level.number; up > 0; --up) {
        cells += count_of(first_ >> up, last >> up);
        halves += 2 * count_of(first_ >> (up + 1), last >> (up + 1));
    }
    doubles_.resize(halves);
    floats_.resize(3 * cells);
    all_columns_.reserve(cells);
    double* quarters = doubles_.data();
    float* coefficients = floats_.data();
    double side = kGrainRoot_mm;
    for (int up = level.number; up > 0; --up) {
        const std::int64_t x0 = first_ >> up, x1 = last >> up;
        const std::size_t count = count_of(x0, x1), of_above = 2 * count_of(x0 >> 1, x1 >> 1);
        Row row;
        row.level = level.number - up;
        row.columns = {all_columns_.data() + all_columns_.size(), count};
        for (std::int64_t ix = x0; ix <= x1; ++ix) all_columns_.push_back(HaarKey::column(ix));
        row.quarters = {quarters, of_above};
        row.a = {coefficients, count};
        row.b = {coefficients + count, count};
        row.d = {coefficients + 2 * count, count};
        row.cells = {row.quarters.subspan(static_cast<std::size_t>(x0 & 1), count), row.a, row.b, row.d,
                     1 / side};
        above_.push_back(row);
        quarters += of_above;
        coefficients += 3 * count;
        side /= 2;
    }
}

void CellRows::fill_normals(Split split, int level, std::int64_t row, std::span<const std::uint32_t> columns,
                            std::span<float> out) const {
    kernels::hash_gaussians(key_.of_row(level, row, split), columns, out);
}

void CellRows::split_all(Row& row) const {
    fill_normals(Split::horizontal, row.level, row.index, row.columns, row.a);
    fill_normals(Split::vertical, row.level, row.index, row.columns, row.b);
    fill_normals(Split::diagonal, row.level, row.index, row.columns, row.d);
}

const kernels::HaarRow& CellRows::above(std::int64_t row) {
    std::size_t i = above_.size();
    while (i > 0 && !(above_[i - 1].valid && above_[i - 1].index == row >> (above_.size() - i))) --i;
    for (; i < above_.size(); ++i) {
        Row& current = above_[i];
        current.valid = true;
        current.index = row >> (above_.size() - 1 - i);
        if (i > 0) kernels::child_row(above_[i - 1].cells, current.index & 1, current.quarters);
        split_all(current);
    }
    return above_.back().cells;
}

CellRows::SplitRow CellRows::unsplit_row(std::int64_t row) {
    fill_normals(Split::horizontal, level_, row, split_columns_, a_);
    valid_ = false;
    return {{}, a_, {}};
}

CellRows::SplitRow CellRows::split_row(std::int64_t row) {
    if (!valid_ || row_ != row) {
        fill_normals(Split::horizontal, level_, row, split_columns_, a_);
        fill_normals(Split::vertical, level_, row, columns_, b_);
        fill_normals(Split::diagonal, level_, row, split_columns_, d_);
        valid_ = true;
        row_ = row;
    }
    return {b_, a_, d_};
}

}  // namespace fadewright::render
