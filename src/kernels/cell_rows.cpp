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
                     const float* __restrict d, double per_width, double sign, std::size_t count,
                     double* __restrict out) {
    const double across_width = sign * per_width;
    for (std::size_t i = 0; i < count; ++i) {
        const double middle = means[i] + static_cast<double>(b[i]) * across_width;
        const double side = static_cast<double>(a[i]) * per_width + static_cast<double>(d[i]) * across_width;
        out[2 * i] = middle + side;
        out[2 * i + 1] = middle - side;
    }
}

template <class Real>
[[gnu::always_inline]] inline void add_in(double u, const Real* __restrict x, std::size_t count,
                                          double* __restrict sums) {
    for (std::size_t i = 0; i < count; ++i) sums[i] += u * static_cast<double>(x[i]);
}

template <class Real>
[[gnu::always_inline]] inline void add_in(double u, const Real* __restrict x, double s,
                                          const float* __restrict y, std::size_t count,
                                          double* __restrict sums) {
    for (std::size_t i = 0; i < count; ++i)
        sums[i] += u * static_cast<double>(x[i]) + s * static_cast<double>(y[i]);
}

FW_WIDE void add(double u, const double* x, std::size_t count, double* sums) { add_in(u, x, count, sums); }
FW_WIDE void add(double u, const float* x, std::size_t count, double* sums) { add_in(u, x, count, sums); }
FW_WIDE void add(double u, const double* x, double s, const float* y, std::size_t count, double* sums) {
    add_in(u, x, s, y, count, sums);
}
FW_WIDE void add(double u, const float* x, double s, const float* y, std::size_t count, double* sums) {
    add_in(u, x, s, y, count, sums);
}

}  // namespace

void mix_places(std::uint64_t key, std::span<const std::uint64_t> places, std::span<std::uint64_t> bits) {
    mix(key, places.data(), places.size(), bits.data());
}

void quarter_row(std::span<const double> means, const RowCuts& cuts, double per_width, bool lower,
                 std::span<double> quarters) {
    quarter(means.data(), cuts.a.data(), cuts.b.data(), cuts.d.data(), per_width, lower ? -1 : 1, means.size(),
            quarters.data());
}

void add_times(double u, std::span<const double> x, std::span<double> sums) {
    add(u, x.data(), sums.size(), sums.data());
}
void add_times(double u, std::span<const float> x, std::span<double> sums) {
    add(u, x.data(), sums.size(), sums.data());
}
void add_times(double u, std::span<const double> x, double s, std::span<const float> y,
               std::span<double> sums) {
    add(u, x.data(), s, y.data(), sums.size(), sums.data());
}
void add_times(double u, std::span<const float> x, double s, std::span<const float> y, std::span<double> sums) {
    add(u, x.data(), s, y.data(), sums.size(), sums.data());
}

}  // namespace fadewright::kernels
