#include "grain_rows.h"

#include "fadewright/kernels/cell_rows.h"
#include "fadewright/render/grain_field.h"

namespace fadewright::render {

CellRows::CellRows(const CutKey& key, const CellLevel& level, std::int64_t first, std::int64_t last,
                   std::span<const std::size_t> cut_cells)
    : key_(key), cut_cells_(cut_cells) {
    std::size_t cells = 0;
    for (int up = 0; up <= level.number; ++up)
        cells += static_cast<std::size_t>((last >> up) - (first >> up) + 1);
    const auto levels = static_cast<std::size_t>(level.number + 1);
    doubles_.resize(cells + 2 * levels);  // the halves of cells at both ends that lie outside
    floats_.resize(3 * cells);
    places_.reserve(cells);
    rows_.reserve(levels);
    double side = kGrainRoot_mm;
    double* quarters = doubles_.data();
    float* cuts = floats_.data();
    for (int up = level.number; up >= 0; --up) {
        const std::int64_t x0 = first >> up, x1 = last >> up;
        const auto count = static_cast<std::size_t>(x1 - x0 + 1);
        const auto halves = 2 * static_cast<std::size_t>((x1 >> 1) - (x0 >> 1) + 1);
        Row row{level.number - up, 1 / side, false, 0, {quarters, halves}, {}, {}, {}, {}, {}};
        row.means = row.quarters.subspan(static_cast<std::size_t>(x0 & 1), count);
        const std::uint64_t* places = places_.data() + places_.size();
        for (std::int64_t ix = x0; ix <= x1; ++ix) places_.push_back(place_of(ix));
        row.places = {places, count};
        row.a = {cuts, count};
        row.b = {cuts + count, count};
        row.d = {cuts + 2 * count, count};
        rows_.push_back(row);
        quarters += halves;
        cuts += 3 * count;
        side /= 2;
    }
    cut_places_.reserve(cut_cells.size());
    for (const std::size_t cell : cut_cells) cut_places_.push_back(rows_.back().places[cell]);
    bits_.resize(rows_.back().places.size());
    a_.resize(cut_cells.size());
    d_.resize(cut_cells.size());
}

void CellRows::to(std::int64_t iy, bool down) {
    const std::size_t finest = rows_.size() - 1;
    for (std::size_t i = 0; i <= finest; ++i) {
        Row& row = rows_[i];
        const std::int64_t at = iy >> (finest - i);
        if (row.known && row.at == at) continue;
        row.known = true;
        row.at = at;
        if (i > 0) {
            const Row& above = rows_[i - 1];
            kernels::quarter_row(above.means, {above.a, above.b, above.d}, above.per_side, at & 1, row.quarters);
        }
        if (i < finest)
            cut_row(row);
        else
            has_a_ = has_all_ = false;
    }
    if (down && !has_all_)
        cut_down();
    else if (!has_a_)
        cut_across();
}

void CellRows::mix(const Row& row, std::span<const std::uint64_t> places) {
    kernels::mix_places(key_.mixed() ^ row_of(row.level, row.at), places, bits_);
}

void CellRows::cut_row(Row& row) {
    mix(row, row.places);
    for (std::size_t i = 0; i < row.places.size(); ++i) {
        const std::uint64_t bits = bits_[i];
        row.a[i] = key_.a(bits);
        row.b[i] = key_.b(bits);
        row.d[i] = key_.d(bits);
    }
}

void CellRows::cut_down() {
    Row& row = rows_.back();
    mix(row, row.places);
    for (std::size_t i = 0; i < row.places.size(); ++i) row.b[i] = key_.b(bits_[i]);
    for (std::size_t i = 0; i < cut_cells_.size(); ++i) {
        const std::uint64_t bits = bits_[cut_cells_[i]];
        a_[i] = key_.a(bits);
        d_[i] = key_.d(bits);
    }
    has_a_ = has_all_ = true;
}

void CellRows::cut_across() {
    mix(rows_.back(), cut_places_);
    for (std::size_t i = 0; i < cut_cells_.size(); ++i) a_[i] = key_.a(bits_[i]);
    has_a_ = true;
}

}  // namespace fadewright::render
