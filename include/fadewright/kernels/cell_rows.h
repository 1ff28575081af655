// The inner loops of noise made of cells that are cut in four (render/grain_field.h): rows of cells at once.
//
// A cell of mean m and width w that the numbers a, b, d cut has the quarters
//
//     left  m + (a +- b +- d) / w,     right  m + (-a +- b -+ d) / w,     the upper signs for the upper row.
//
// Holds for  any finite numbers; all spans of a call as long as said
// Accuracy   to rounding; the same bits for any width of vectors
// Checks     tests/kernels/cell_rows_test.cpp, tests/render/grain_field_test.cpp
#pragma once

#include <cstdint>
#include <span>

namespace fadewright::kernels {

// A row of cells: what they hold on average, what cuts them, and one over their width.
struct CellRow {
    std::span<const double> means;
    std::span<const float> a, b, d;
    double per_width;
};

// bits[i] = mixed_bits(key ^ places[i]) (base/random.h).
void mix_places(std::uint64_t key, std::span<const std::uint64_t> places, std::span<std::uint64_t> bits);

// The halves of each cell side by side: of its upper or of its lower quarters.
void quarter_row(const CellRow& cells, bool lower, std::span<double> quarters);

// Adds so many times the upper quarters and so many times the lower ones.
void add_quarters(const CellRow& cells, double upper, double lower, std::span<double> sums);

// sums[i] += u x[i], and sums[i] += u x[i] + v y[i].
void add_times(double u, std::span<const float> x, std::span<double> sums);
void add_times(double u, std::span<const float> x, double v, std::span<const float> y,
               std::span<double> sums);

}  // namespace fadewright::kernels
