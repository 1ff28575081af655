// Small systems of linear equations.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

namespace fadewright::colour {

template <std::size_t N>
using SquareMatrix = std::array<std::array<double, N>, N>;

// Solves a x = b into b, by elimination with the largest pivot of each column. False if a is singular.
template <std::size_t N>
bool solve(SquareMatrix<N>& a, std::array<double, N>& b) noexcept {
    for (std::size_t column = 0; column < N; ++column) {
        std::size_t pivot = column;
        for (std::size_t row = column + 1; row < N; ++row)
            if (std::abs(a[row][column]) > std::abs(a[pivot][column])) pivot = row;
        if (!(std::abs(a[pivot][column]) > 0)) return false;
        std::swap(a[pivot], a[column]);
        std::swap(b[pivot], b[column]);
        for (std::size_t row = column + 1; row < N; ++row) {
            const double factor = a[row][column] / a[column][column];
            if (factor == 0) continue;
            for (std::size_t k = column; k < N; ++k) a[row][k] -= factor * a[column][k];
            b[row] -= factor * b[column];
        }
    }
    for (std::size_t row = N; row-- > 0;) {
        for (std::size_t k = row + 1; k < N; ++k) b[row] -= a[row][k] * b[k];
        b[row] /= a[row][row];
    }
    return true;
}

}  // namespace fadewright::colour
