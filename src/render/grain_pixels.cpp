#include "grain_pixels.h"

#include <algorithm>
#include <cmath>

namespace fadewright::render {

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

}  // namespace fadewright::render
