#include "fadewright/kernels/haar_rows.h"

#include "simd_clones.h"

#include <cstddef>

namespace fadewright::kernels {
namespace {

// The weighted sum of the upper and lower quarters, added to `sums` or assigned to them.
enum class Store { add, assign };

template <Store store>
[[gnu::always_inline]] inline void combine_children(const double* __restrict means, const float* __restrict a,
                                                    const float* __restrict b, const float* __restrict d,
                                                    double weight, double across, double down,
                                                    std::size_t count, double* __restrict sums) {
    for (std::size_t i = 0; i < count; ++i) {
        const double centre = weight * means[i] + down * static_cast<double>(b[i]);
        const double side = across * static_cast<double>(a[i]) + down * static_cast<double>(d[i]);
        sums[2 * i] = (store == Store::add ? sums[2 * i] : 0) + (centre + side);
        sums[2 * i + 1] = (store == Store::add ? sums[2 * i + 1] : 0) + (centre - side);
    }
}

FW_SIMD_CLONES void add(const double* __restrict means, const float* __restrict a, const float* __restrict b,
                        const float* __restrict d, double weight, double across, double down,
                        std::size_t count, double* __restrict sums) {
    combine_children<Store::add>(means, a, b, d, weight, across, down, count, sums);
}
FW_SIMD_CLONES void assign(const double* __restrict means, const float* __restrict a,
                           const float* __restrict b, const float* __restrict d, double weight, double across,
                           double down, std::size_t count, double* __restrict sums) {
    combine_children<Store::assign>(means, a, b, d, weight, across, down, count, sums);
}

FW_SIMD_CLONES void add(double u, const float* __restrict x, std::size_t count, double* __restrict sums) {
    for (std::size_t i = 0; i < count; ++i) sums[i] += u * static_cast<double>(x[i]);
}

FW_SIMD_CLONES void add(double u, const float* __restrict x, double v, const float* __restrict y,
                        std::size_t count, double* __restrict sums) {
    for (std::size_t i = 0; i < count; ++i)
        sums[i] += u * static_cast<double>(x[i]) + v * static_cast<double>(y[i]);
}

}  // namespace

void add_child_rows(const HaarRow& cells, double upper, double lower, std::span<double> sums) {
    const double weight = upper + lower;
    add(cells.means.data(), cells.a.data(), cells.b.data(), cells.d.data(), weight, weight * cells.per_width,
        (upper - lower) * cells.per_width, cells.means.size(), sums.data());
}

void set_child_rows(const HaarRow& cells, double upper, double lower, std::span<double> sums) {
    const double weight = upper + lower;
    assign(cells.means.data(), cells.a.data(), cells.b.data(), cells.d.data(), weight,
           weight * cells.per_width, (upper - lower) * cells.per_width, cells.means.size(), sums.data());
}

void child_row(const HaarRow& cells, bool lower, std::span<double> children) {
    set_child_rows(cells, lower ? 0 : 1, lower ? 1 : 0, children);
}

void axpy(double u, std::span<const float> x, std::span<double> sums) {
    add(u, x.data(), x.size(), sums.data());
}
void axpy(double u, std::span<const float> x, double v, std::span<const float> y, std::span<double> sums) {
    add(u, x.data(), v, y.data(), x.size(), sums.data());
}

}  // namespace fadewright::kernels
