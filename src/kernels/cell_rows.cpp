#include "fadewright/kernels/cell_rows.h"

#include "fadewright/base/random.h"
#include "wide.h"

#include <cstddef>

namespace fadewright::kernels {
namespace {

FW_WIDE void mix(std::uint64_t key, const std::uint64_t* __restrict places, std::size_t count,
                 std::uint64_t* __restrict bits) {
    for (std::size_t i = 0; i < count; ++i) bits[i] = mixed_bits(key ^ places[i]);
}

FW_WIDE void quarter(const double* __restrict means, const float* __restrict a, const float* __restrict b,
                     const float* __restrict d, double across, double down, std::size_t count,
                     double* __restrict out) {
    for (std::size_t i = 0; i < count; ++i) {
        const double middle = means[i] + down * static_cast<double>(b[i]);
        const double side = across * static_cast<double>(a[i]) + down * static_cast<double>(d[i]);
        out[2 * i] = middle + side;
        out[2 * i + 1] = middle - side;
    }
}

FW_WIDE void add(const double* __restrict means, const float* __restrict a, const float* __restrict b,
                 const float* __restrict d, double times, double across, double down, std::size_t count,
                 double* __restrict sums) {
    for (std::size_t i = 0; i < count; ++i) {
        const double middle = times * means[i] + down * static_cast<double>(b[i]);
        const double side = across * static_cast<double>(a[i]) + down * static_cast<double>(d[i]);
        sums[2 * i] += middle + side;
        sums[2 * i + 1] += middle - side;
    }
}

FW_WIDE void add(double u, const float* __restrict x, std::size_t count, double* __restrict sums) {
    for (std::size_t i = 0; i < count; ++i) sums[i] += u * static_cast<double>(x[i]);
}

FW_WIDE void add(double u, const float* __restrict x, double v, const float* __restrict y, std::size_t count,
                 double* __restrict sums) {
    for (std::size_t i = 0; i < count; ++i)
        sums[i] += u * static_cast<double>(x[i]) + v * static_cast<double>(y[i]);
}

}  // namespace

void mix_places(std::uint64_t key, std::span<const std::uint64_t> places, std::span<std::uint64_t> bits) {
    mix(key, places.data(), places.size(), bits.data());
}

void quarter_row(const CellRow& cells, bool lower, std::span<double> quarters) {
    quarter(cells.means.data(), cells.a.data(), cells.b.data(), cells.d.data(), cells.per_width,
            lower ? -cells.per_width : cells.per_width, cells.means.size(), quarters.data());
}

void add_quarters(const CellRow& cells, double upper, double lower, std::span<double> sums) {
    const double times = upper + lower;
    add(cells.means.data(), cells.a.data(), cells.b.data(), cells.d.data(), times, times * cells.per_width,
        (upper - lower) * cells.per_width, cells.means.size(), sums.data());
}

void add_times(double u, std::span<const float> x, std::span<double> sums) {
    add(u, x.data(), x.size(), sums.data());
}
void add_times(double u, std::span<const float> x, double v, std::span<const float> y,
               std::span<double> sums) {
    add(u, x.data(), v, y.data(), x.size(), sums.data());
}

}  // namespace fadewright::kernels
