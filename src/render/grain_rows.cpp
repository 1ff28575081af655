#include "grain_rows.h"

#include "fadewright/render/grain_field.h"

namespace fadewright::render {
namespace {

std::size_t count_of(std::int64_t first, std::int64_t last) {
    return static_cast<std::size_t>(last - first + 1);
}

}  // namespace

CellRows::CellRows(const CutKey& key, const CellLevel& level, std::int64_t first, std::int64_t last,
                   std::span<const std::size_t> cut_cells)
    : key_(key), level_(level.number), first_(first), cut_cells_(cut_cells) {
    make_room(level, last);
    places_.reserve(count_of(first, last));
    for (std::int64_t ix = first; ix <= last; ++ix) places_.push_back(place_of(ix));
    cut_places_.reserve(cut_cells.size());
    for (const std::size_t cell : cut_cells) cut_places_.push_back(places_[cell]);
    bits_.resize(places_.size());
    a_.resize(cut_cells.size());
    b_.resize(places_.size());
    d_.resize(cut_cells.size());
}

void CellRows::make_room(const CellLevel& level, std::int64_t last) {
    std::size_t cells = 0, halves = 0;
    for (int up = level.number; up > 0; --up) {
        cells += count_of(first_ >> up, last >> up);
        halves += 2 * count_of(first_ >> (up + 1), last >> (up + 1));
    }
    doubles_.resize(halves);
    floats_.resize(3 * cells);
    all_places_.reserve(cells);
    double* quarters = doubles_.data();
    float* cuts = floats_.data();
    double side = kGrainRoot_mm;
    for (int up = level.number; up > 0; --up) {
        const std::int64_t x0 = first_ >> up, x1 = last >> up;
        const std::size_t count = count_of(x0, x1), of_above = 2 * count_of(x0 >> 1, x1 >> 1);
        Row row;
        row.level = level.number - up;
        row.places = {all_places_.data() + all_places_.size(), count};
        for (std::int64_t ix = x0; ix <= x1; ++ix) all_places_.push_back(place_of(ix));
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

void CellRows::mix(int level, std::int64_t row, std::span<const std::uint64_t> places) {
    kernels::mix_places(key_.mixed() ^ row_of(level, row), places, bits_);
}

void CellRows::cut_all(Row& row) {
    mix(row.level, row.at, row.places);
    for (std::size_t i = 0; i < row.places.size(); ++i) {
        const std::uint64_t bits = bits_[i];
        row.a[i] = key_.a(bits);
        row.b[i] = key_.b(bits);
        row.d[i] = key_.d(bits);
    }
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
    mix(level_, row, cut_places_);
    for (std::size_t i = 0; i < cut_cells_.size(); ++i) a_[i] = key_.a(bits_[i]);
    known_ = false;
    return {{}, a_, {}};
}

CellRows::Cuts CellRows::cut(std::int64_t row) {
    if (!known_ || at_ != row) {
        mix(level_, row, places_);
        for (std::size_t i = 0; i < places_.size(); ++i) b_[i] = key_.b(bits_[i]);
        for (std::size_t i = 0; i < cut_cells_.size(); ++i) {
            const std::uint64_t bits = bits_[cut_cells_[i]];
            a_[i] = key_.a(bits);
            d_[i] = key_.d(bits);
        }
        known_ = true;
        at_ = row;
    }
    return {b_, a_, d_};
}

}  // namespace fadewright::render
