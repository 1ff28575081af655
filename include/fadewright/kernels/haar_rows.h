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

#include <span>

namespace fadewright::kernels {

// A row of cells: what they hold on average, what cuts them, and one over their width.
struct HaarRow {
    std::span<const double> means;
    std::span<const float> a, b, d;
    double per_width;
};

// The halves of each cell side by side: of its upper or of its lower quarters.
void child_row(const HaarRow& cells, bool lower, std::span<double> children);

// So many times the upper quarters and so many times the lower ones: added to sums, or put there in place of what they
// hold.
void add_child_rows(const HaarRow& cells, double upper, double lower, std::span<double> sums);
void set_child_rows(const HaarRow& cells, double upper, double lower, std::span<double> sums);

// sums[i] += u x[i], and sums[i] += u x[i] + v y[i].
void axpy(double u, std::span<const float> x, std::span<double> sums);
void axpy(double u, std::span<const float> x, double v, std::span<const float> y, std::span<double> sums);

}  // namespace fadewright::kernels
