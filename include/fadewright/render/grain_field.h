// Noise for grain that is the same on every picture of a panel, however fine its pixels.
//
// The noise belongs to places in millimetres. It is white: what one patch holds tells nothing of its
// neighbour, and the mean over A mm2 has the standard deviation 1/sqrt(A). Multiply it by the root of a grain
// power (film/grain.h, mm2) to get deviations of reflectance; several pixels together then deviate as little
// as a larger pixel does, which is how dots behave and how the eye averages them.
//
// The field is a pyramid. Square roots of kGrainRoot_mm hold the mean 0. Any cell is cut in four by
// three keyed normal numbers a, b, d:
//
//     mean of a quarter = mean of the cell + (+-a +- b +- d) / side
//
// and cut anywhere else, shares u of its width and w of its height, it gives the part
//
//     u w side^2 mean + side (a s(u) w + b u s(w) + d s(u) s(w)),     s(u) = sqrt(u (1 - u))
//
// with the signs of s turned for the opposite part. Parts cut like this are independent and have just their
// variance, and in the middle the rule is the pyramid's own. So a pixel is summed of cells no larger than
// itself, each cut at most once either way, and the noise is exactly white for pixels of any size and place.
//
// Source: own derivation: white noise in a Haar basis.
// Holds for  patches from kFinestGrain_mm up; places within 10 m
// Accuracy   pixels of one picture: exactly white below the root, whose mean is 0 (a patch of area A has the
//            variance 1/A - 1/root area). Pictures of one panel with pixels of p and of 2p are the same to
//            rounding where pixels are power-of-two parts of a millimetre in place and size; else they are cut
//            differently at the edges of pixels, and correlate by 0.8 to 0.9 pixel by pixel, by more than
//            0.97 in patches of eight pixels. Numbers that cut a cell end at 4.04
//            deviations (kernels/keyed_normals.h)
// Checks     tests/render/grain_field_test.cpp
#pragma once

#include <cstdint>
#include <span>

namespace fadewright::render {

inline constexpr double kGrainRoot_mm = 64;
inline constexpr double kFinestGrain_mm = 1e-3;

// Square pixels: column i reaches from x0_mm + i pixel_mm to x0_mm + (i + 1) pixel_mm. A part of a picture is
// given by its first column and row, so that it comes out as in the whole, to the last bit.
struct GrainGrid {
    double x0_mm = 0, y0_mm = 0;
    double pixel_mm = 0.1;
    int first_column = 0, first_row = 0;
    int columns = 0, rows = 0;
};

class GrainField {
public:
    GrainField(std::uint64_t seed, std::uint64_t stream) noexcept : seed_(seed), stream_(stream) {}

    // Mean over a rectangle, 1/mm. The plain road, cell by cell from the root: microseconds.
    [[nodiscard]] double mean_over(double x0_mm, double y0_mm, double x1_mm, double y1_mm) const;

    // The same for all pixels of a grid, row by row: 10 to 16 ns a pixel.
    void fill_means(const GrainGrid& grid, std::span<double> means_per_mm) const;

private:
    std::uint64_t seed_;
    std::uint64_t stream_;
};

}  // namespace fadewright::render
