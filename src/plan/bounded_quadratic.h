// The minimum of a quadratic function with lower bounds on its variables.
#pragma once

#include <cstddef>
#include <vector>

namespace fadewright::plan {

// x' matrix x - 2 rhs' x; matrix symmetric and positive definite, row by row.
struct BoundedQuadratic {
    explicit BoundedQuadratic(std::size_t count) : matrix(count * count), rhs(count) {}
    [[nodiscard]] std::size_t count() const noexcept { return rhs.size(); }
    [[nodiscard]] double& at(std::size_t a, std::size_t b) noexcept { return matrix[a * count() + b]; }
    [[nodiscard]] double at(std::size_t a, std::size_t b) const noexcept { return matrix[a * count() + b]; }

    [[nodiscard]] double value(const std::vector<double>& x) const noexcept;
    // Half of the negative derivative in that variable.
    [[nodiscard]] double residual(const std::vector<double>& x, std::size_t amount) const noexcept;

    std::vector<double> matrix, rhs;
};

// The minimum over x >= lower, from a `start` within the bounds; `fixed` variables keep their start values.
// Exact except for rounding: an active-set method, which adds or drops one bound at a time and always
// descends.
[[nodiscard]] std::vector<double> minimise(const BoundedQuadratic& quadratic,
                                           const std::vector<double>& lower, const std::vector<bool>& fixed,
                                           std::vector<double> start);

}  // namespace fadewright::plan
