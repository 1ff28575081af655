// 3 x 3 matrices for colour spaces.
#pragma once

#include <array>
#include <cstddef>

namespace fadewright::colour {

using Vector = std::array<double, 3>;

struct Matrix {
    std::array<Vector, 3> m{};
};

constexpr Vector operator*(const Matrix& a, const Vector& v) noexcept {
    Vector out{};
    for (std::size_t i = 0; i < 3; ++i) out[i] = a.m[i][0] * v[0] + a.m[i][1] * v[1] + a.m[i][2] * v[2];
    return out;
}

constexpr Matrix operator*(const Matrix& a, const Matrix& b) noexcept {
    Matrix out;
    for (std::size_t i = 0; i < 3; ++i)
        for (std::size_t j = 0; j < 3; ++j)
            for (std::size_t k = 0; k < 3; ++k) out.m[i][j] += a.m[i][k] * b.m[k][j];
    return out;
}

constexpr Matrix diagonal(const Vector& v) noexcept {
    Matrix out;
    for (std::size_t i = 0; i < 3; ++i) out.m[i][i] = v[i];
    return out;
}

// By cofactors; the matrices used are far from singular.
constexpr Matrix inverse(const Matrix& a) noexcept {
    Matrix out;
    for (std::size_t i = 0; i < 3; ++i) {
        const std::size_t i1 = (i + 1) % 3, i2 = (i + 2) % 3;
        for (std::size_t j = 0; j < 3; ++j) {
            const std::size_t j1 = (j + 1) % 3, j2 = (j + 2) % 3;
            out.m[j][i] = a.m[i1][j1] * a.m[i2][j2] - a.m[i1][j2] * a.m[i2][j1];
        }
    }
    double determinant = 0;
    for (std::size_t j = 0; j < 3; ++j) determinant += a.m[0][j] * out.m[j][0];
    for (auto& row : out.m)
        for (double& v : row) v /= determinant;
    return out;
}

}  // namespace fadewright::colour
