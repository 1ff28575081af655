// Noise for graininess that is the same in every picture of a panel, at any pixel size.
//
// The noise is fixed to positions in millimetres. It is white: separate areas are independent, and the mean
// over A mm2 has the standard deviation 1/sqrt(A). Multiplied by the root of a noise power
// (film/graininess.h, mm2) it gives deviations of reflectance; several pixels together then deviate as little
// as one larger pixel, which is how dots behave and how the eye averages them.
//
// The field is a pyramid. Root squares of kGrainRoot_mm have the mean 0. Any cell is divided into four by
// three hashed normal numbers a, b, d:
//
//     mean of a quarter = mean of the cell + (+-a +- b +- d) / side
//
// and divided anywhere else, at shares u of its width and w of its height, it gives the part
//
//     u w side^2 mean + side (a s(u) w + b u s(w) + d s(u) s(w)),     s(u) = sqrt(u (1 - u))
//
// with the signs of s reversed for the opposite part. Such parts are independent and have exactly their
// variance; at the centre the rule is that of the pyramid. So a pixel is the sum of cells no larger than
// itself, each divided at most once in either direction, and the noise is exactly white for pixels of any
// size and position.
//
// Source: own derivation: white noise in a Haar basis.
// Holds for  areas from kFinestGrain_mm up; positions within 10 m
// Accuracy   pixels of one picture: exactly white below the root, whose mean is 0 (an area A has the variance
//            1/A - 1/root area). Pictures of one panel with pixels of p and of 2p are equal within rounding
//            if position and size of the pixels are power-of-two fractions of a millimetre; otherwise cells
//            are divided differently at the edges of pixels, and the pictures correlate by 0.8 to 0.9 pixel
//            by pixel, by more than 0.97 over eight pixels. The normal numbers end at 4.04 standard
//            deviations (kernels/hash_gaussian.h)
// Checks     tests/render/grain_field_test.cpp
#pragma once

#include <cstdint>
#include <span>

namespace fadewright::render {

inline constexpr double kGrainRoot_mm = 64;
inline constexpr double kFinestGrain_mm = 1e-3;

// Square pixels: column i is from x0_mm + i pixel_mm to x0_mm + (i + 1) pixel_mm. A part of a picture is
// given by its first column and row, so that it equals that part of the whole, to the last bit.
struct GrainGrid {
    double x0_mm = 0, y0_mm = 0;
    double pixel_mm = 0.1;
    int first_column = 0, first_row = 0;
    int columns = 0, rows = 0;
};

class GrainField {
public:
    GrainField(std::uint64_t seed, std::uint64_t stream) noexcept : seed_(seed), stream_(stream) {}

    // Mean over a rectangle, 1/mm. The reference computation, cell by cell from the root: microseconds.
    [[nodiscard]] double mean_over(double x0_mm, double y0_mm, double x1_mm, double y1_mm) const;

    // The same for all pixels of a grid, row by row: 10 to 16 ns per pixel.
    void fill_means(const GrainGrid& grid, std::span<double> means_per_mm) const;

private:
    std::uint64_t seed_;
    std::uint64_t stream_;
};

}  // namespace fadewright::render
