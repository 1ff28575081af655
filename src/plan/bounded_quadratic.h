// The lowest place of a bowl over amounts that may not fall below bounds.
#pragma once

#include <cstddef>
#include <vector>

namespace fadewright::plan {

// x' square x - 2 right' x; square symmetric and positive definite, row by row.
struct BoundedQuadratic {
    explicit BoundedQuadratic(std::size_t count) : matrix(count * count), rhs(count) {}
    [[nodiscard]] std::size_t count() const noexcept { return rhs.size(); }
    [[nodiscard]] double& at(std::size_t a, std::size_t b) noexcept { return matrix[a * count() + b]; }
    [[nodiscard]] double at(std::size_t a, std::size_t b) const noexcept { return matrix[a * count() + b]; }

    [[nodiscard]] double value(const std::vector<double>& x) const noexcept;
    // Half its slope downhill by that amount.
    [[nodiscard]] double residual(const std::vector<double>& x, std::size_t amount) const noexcept;

    std::vector<double> matrix, rhs;
};

// Where it is lowest over x >= low, from a `start` within the bounds. What is `held` stays as it starts. Exact but
// for rounding: bounds are taken hold of and let go one at a time, each time with a lower place.
[[nodiscard]] std::vector<double> minimise(const BoundedQuadratic& quadratic,
                                           const std::vector<double>& lower, const std::vector<bool>& fixed,
                                           std::vector<double> start);

}  // namespace fadewright::plan
