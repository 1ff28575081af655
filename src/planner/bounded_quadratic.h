// The minimum of a quadratic function with lower bounds on its variables.
#pragma once

#include <Eigen/Core>

#include <cstddef>
#include <span>
#include <vector>

namespace fadewright::planner {

[[nodiscard]] inline Eigen::Map<const Eigen::VectorXd> as_vector(std::span<const double> values) noexcept {
    return {values.data(), static_cast<Eigen::Index>(values.size())};
}

// x' matrix x - 2 rhs' x; matrix symmetric and positive definite.
struct BoundedQuadratic {
    explicit BoundedQuadratic(std::size_t count)
        : matrix(Eigen::MatrixXd::Zero(static_cast<Eigen::Index>(count), static_cast<Eigen::Index>(count))),
          rhs(Eigen::VectorXd::Zero(matrix.rows())) {}

    [[nodiscard]] double value(std::span<const double> x) const;
    // Half of the negative derivative in that variable, and half of the second derivative.
    [[nodiscard]] double residual(std::span<const double> x, std::size_t variable) const;
    [[nodiscard]] double curvature(std::size_t variable) const;
    // Adds `weight` sqrt(curvature of both) (x[variable] - x[variable + 1])^2, with the curvatures given.
    void add_unevenness(double weight, const Eigen::VectorXd& curvatures, Eigen::Index variable);

    Eigen::MatrixXd matrix;
    Eigen::VectorXd rhs;
};

// The minimum over x >= lower, from a `start` within the bounds; `fixed` variables keep their start values.
// Exact except for rounding: an active-set method, which adds or drops one bound at a time and always
// descends.
[[nodiscard]] std::vector<double> minimise(const BoundedQuadratic& quadratic,
                                           const std::vector<double>& lower, const std::vector<bool>& fixed,
                                           std::vector<double> start);

}  // namespace fadewright::planner
