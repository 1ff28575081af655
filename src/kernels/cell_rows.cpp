#include "fadewright/kernels/cell_rows.h"

#include "wide.h"

#include <cstddef>

namespace fadewright::kernels {
namespace {

// What the quarters above one another hold together, times so much each; on top of what `sums` holds, or in its place.
enum class Put { on_top, in_place };

template <Put put>
[[gnu::always_inline]] inline void quarters_to(const double* __restrict means, const float* __restrict a,
                                               const float* __restrict b, const float* __restrict d,
                                               double times, double across, double down, std::size_t count,
                                               double* __restrict sums) {
    for (std::size_t i = 0; i < count; ++i) {
        const double middle = times * means[i] + down * static_cast<double>(b[i]);
        const double side = across * static_cast<double>(a[i]) + down * static_cast<double>(d[i]);
        sums[2 * i] = (put == Put::on_top ? sums[2 * i] : 0) + (middle + side);
        sums[2 * i + 1] = (put == Put::on_top ? sums[2 * i + 1] : 0) + (middle - side);
    }
}

FW_WIDE void add(const double* __restrict means, const float* __restrict a, const float* __restrict b,
                 const float* __restrict d, double times, double across, double down, std::size_t count,
                 double* __restrict sums) {
    quarters_to<Put::on_top>(means, a, b, d, times, across, down, count, sums);
}
FW_WIDE void put(const double* __restrict means, const float* __restrict a, const float* __restrict b,
                 const float* __restrict d, double times, double across, double down, std::size_t count,
                 double* __restrict sums) {
    quarters_to<Put::in_place>(means, a, b, d, times, across, down, count, sums);
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

void add_quarters(const CellRow& cells, double upper, double lower, std::span<double> sums) {
    const double times = upper + lower;
    add(cells.means.data(), cells.a.data(), cells.b.data(), cells.d.data(), times, times * cells.per_width,
        (upper - lower) * cells.per_width, cells.means.size(), sums.data());
}

void put_quarters(const CellRow& cells, double upper, double lower, std::span<double> sums) {
    const double times = upper + lower;
    put(cells.means.data(), cells.a.data(), cells.b.data(), cells.d.data(), times, times * cells.per_width,
        (upper - lower) * cells.per_width, cells.means.size(), sums.data());
}

void quarter_row(const CellRow& cells, bool lower, std::span<double> quarters) {
    put_quarters(cells, lower ? 0 : 1, lower ? 1 : 0, quarters);
}

void add_times(double u, std::span<const float> x, std::span<double> sums) {
    add(u, x.data(), x.size(), sums.data());
}
void add_times(double u, std::span<const float> x, double v, std::span<const float> y,
               std::span<double> sums) {
    add(u, x.data(), v, y.data(), x.size(), sums.data());
}

}  // namespace fadewright::kernels
