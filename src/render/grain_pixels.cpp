#include "grain_pixels.h"

namespace fadewright::render {

PixelAxis::PixelAxis(double origin_mm, int first, int count, double pixel_mm, const CellLevel& level) {
    stretches_.reserve(static_cast<std::size_t>(count));
    for (int i = first; i < first + count; ++i) {
        const double from = origin_mm + i * pixel_mm, to = origin_mm + (i + 1) * pixel_mm;
        Stretch one;
        one.first = cell_at(from, level);
        one.last = last_cell(to, one.first, level);
        one.at_first = part_of(one.first, level, from, to);
        one.at_last = part_of(one.last, level, from, to);
        stretches_.push_back(one);
    }
}

PixelRow::PixelRow(const PixelAxis& across) {
    pixels_.reserve(across.pixels());
    cut_cells_.reserve(across.pixels() + 1);
    for (std::size_t i = 0; i < across.pixels(); ++i) {
        const std::int64_t first = across.first(i), last = across.last(i);
        Pixel one;
        one.first = static_cast<std::size_t>(first - across.first());
        one.last = static_cast<std::size_t>(last - across.first());
        one.u_first = across.part(i, first).u;
        one.left = end_at(one.first, across.part(i, first));
        if (last > first) {
            one.u_next = last > first + 1 ? 1 : 0;
            one.u_last = across.part(i, last).u;
            one.right = end_at(one.last, across.part(i, last));
        }
        pixels_.push_back(one);
    }
}

PixelRow::End PixelRow::end_at(std::size_t cell, const CellPart& part) {
    if (part.s == 0) return {};
    if (cut_cells_.empty() || cut_cells_.back() != cell) cut_cells_.push_back(cell);
    return {cut_cells_.size() - 1, part.s};
}

void PixelRow::sum(std::span<const double> cells, std::span<const double> crosswise, double scale,
                   std::span<double> out) const {
    double* to = out.data();
    for (const Pixel& p : pixels_) {
        double sum = p.left.s * crosswise[p.left.cut] + p.right.s * crosswise[p.right.cut] +
                     p.u_first * cells[p.first] + p.u_next * cells[p.first + 1] + p.u_last * cells[p.last];
        for (std::size_t cell = p.first + 2; cell < p.last; ++cell) sum += cells[cell];
        *to++ = scale * sum;
    }
}

}  // namespace fadewright::render
