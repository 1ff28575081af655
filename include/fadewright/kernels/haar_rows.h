// Inner loops of noise by Haar refinement (render/grain_field.h): whole rows of cells, each split into four
// quarters.
//
// A cell of mean m and width w with the Haar coefficients a, b, d has the quarters
//
//     left  m + (a +- b +- d) / w,     right  m + (-a +- b -+ d) / w,     the upper signs for the upper row.
//
// Holds for  finite numbers; spans of a call of the lengths stated
// Accuracy   to rounding; the same bits for every vector width
// Checks     tests/kernels/haar_rows_test.cpp, tests/render/grain_field_test.cpp
#pragma once

#include <span>

namespace fadewright::kernels {

// A row of cells: their means, their coefficients, and 1 / width.
struct HaarRow {
    std::span<const double> means;
    std::span<const float> a, b, d;
    double per_width;
};

// The left and right quarters of each cell in turn, of its upper or its lower row.
void child_row(const HaarRow& cells, bool lower, std::span<double> children);

// upper x the upper quarters + lower x the lower quarters, added to sums, or assigned to them.
void add_child_rows(const HaarRow& cells, double upper, double lower, std::span<double> sums);
void set_child_rows(const HaarRow& cells, double upper, double lower, std::span<double> sums);

// sums[i] += u x[i], and sums[i] += u x[i] + v y[i].
void axpy(double u, std::span<const float> x, std::span<double> sums);
void axpy(double u, std::span<const float> x, double v, std::span<const float> y, std::span<double> sums);

}  // namespace fadewright::kernels
