#include "grain_rows.h"

#include "fadewright/kernels/keyed_normals.h"
#include "fadewright/render/grain_field.h"

namespace fadewright::render {
namespace {

std::size_t count_of(std::int64_t first, std::int64_t last) {
    return static_cast<std::size_t>(last - first + 1);
}

}  // namespace

CellRows::CellRows(const CutKey& key, const CellLevel& level, std::int64_t first, std::int64_t last,
                   std::span<const std::size_t> cut_cells)
    : key_(key), level_(level.number), first_(first) {
    make_room(level, last);
    columns_.reserve(count_of(first, last));
    for (std::int64_t ix = first; ix <= last; ++ix) columns_.push_back(CutKey::column(ix));
    cut_columns_.reserve(cut_cells.size());
    for (const std::size_t cell : cut_cells) cut_columns_.push_back(columns_[cell]);
    a_.resize(cut_columns_.size());
    b_.resize(columns_.size());
    d_.resize(cut_columns_.size());
}

void CellRows::make_room(const CellLevel& level, std::int64_t last) {
    std::size_t cells = 0, halves = 0;
    for (int up = level.number; up > 0; --up) {
        cells += count_of(first_ >> up, last >> up);
        halves += 2 * count_of(first_ >> (up + 1), last >> (up + 1));
    }
    doubles_.resize(halves);
    floats_.resize(3 * cells);
    all_columns_.reserve(cells);
    double* quarters = doubles_.data();
    float* cuts = floats_.data();
    double side = kGrainRoot_mm;
    for (int up = level.number; up > 0; --up) {
        const std::int64_t x0 = first_ >> up, x1 = last >> up;
        const std::size_t count = count_of(x0, x1), of_above = 2 * count_of(x0 >> 1, x1 >> 1);
        Row row;
        row.level = level.number - up;
        row.columns = {all_columns_.data() + all_columns_.size(), count};
        for (std::int64_t ix = x0; ix <= x1; ++ix) all_columns_.push_back(CutKey::column(ix));
        row.quarters = {quarters, of_above};
        row.a = {cuts, count};
        row.b = {cuts + count, count};
        row.d = {cuts + 2 * count, count};
        row.cells = {row.quarters.subspan(static_cast<std::size_t>(x0 & 1), count), row.a, row.b, row.d,
                     1 / side};
        above_.push_back(row);
        quarters += of_above;
        cuts += 3 * count;
        side /= 2;
    }
}

void CellRows::find(Cutting cutting, int level, std::int64_t row, std::span<const std::uint32_t> columns,
                    std::span<float> out) const {
    kernels::keyed_normals(key_.of_row(level, row, cutting), columns, out);
}

void CellRows::cut_all(Row& row) const {
    find(Cutting::across, row.level, row.at, row.columns, row.a);
    find(Cutting::down, row.level, row.at, row.columns, row.b);
    find(Cutting::crosswise, row.level, row.at, row.columns, row.d);
}

const kernels::CellRow& CellRows::above(std::int64_t row) {
    std::size_t i = above_.size();
    while (i > 0 && !(above_[i - 1].known && above_[i - 1].at == row >> (above_.size() - i))) --i;
    for (; i < above_.size(); ++i) {
        Row& here = above_[i];
        here.known = true;
        here.at = row >> (above_.size() - 1 - i);
        if (i > 0) kernels::quarter_row(above_[i - 1].cells, here.at & 1, here.quarters);
        cut_all(here);
    }
    return above_.back().cells;
}

CellRows::Cuts CellRows::whole(std::int64_t row) {
    find(Cutting::across, level_, row, cut_columns_, a_);
    known_ = false;
    return {{}, a_, {}};
}

CellRows::Cuts CellRows::cut(std::int64_t row) {
    if (!known_ || at_ != row) {
        find(Cutting::across, level_, row, cut_columns_, a_);
        find(Cutting::down, level_, row, columns_, b_);
        find(Cutting::crosswise, level_, row, cut_columns_, d_);
        known_ = true;
        at_ = row;
    }
    return {b_, a_, d_};
}

}  // namespace fadewright::render
