#include "grain_rows.h"

#include "fadewright/kernels/hash_gaussian.h"
#include "fadewright/render/grain_field.h"

namespace fadewright::render {
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
