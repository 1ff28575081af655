#include "bounded_quadratic.h"

#include <Eigen/Cholesky>

#include <cmath>

namespace fadewright::planner {
namespace {

using Eigen::Index;
using Eigen::VectorXd;

constexpr double kResidualTolerance = 1e-9;  // relative to the right-hand side
constexpr std::size_t kMaxRoundsPerAmount = 6;

// The variable at its bound with the largest descent upwards; -1 if there is none.
Index max_violated_bound(const BoundedQuadratic& quadratic, const std::vector<bool>& bound,
                         const VectorXd& residual) {
    Index worst = -1;
    double max_residual = 0;
    for (Index i = 0; i < residual.size(); ++i) {
        if (!bound[static_cast<std::size_t>(i)]) continue;
        if (residual[i] <= kResidualTolerance * std::abs(quadratic.rhs[i])) continue;
        const double scaled = residual[i] / std::sqrt(quadratic.matrix(i, i));  // units do not matter
        if (scaled > max_residual) max_residual = scaled, worst = i;
    }
    return worst;
}

}  // namespace

double BoundedQuadratic::value(std::span<const double> x) const {
    return -as_vector(x).dot(rhs + (rhs - matrix * as_vector(x)));
}

double BoundedQuadratic::residual(std::span<const double> x, std::size_t variable) const {
    const auto i = static_cast<Index>(variable);
    return rhs[i] - matrix.col(i).dot(as_vector(x));
}

double BoundedQuadratic::curvature(std::size_t variable) const {
    return matrix.diagonal()[static_cast<Index>(variable)];
}

void BoundedQuadratic::add_unevenness(double weight, const VectorXd& curvatures, Index variable) {
    const double cost = weight * std::sqrt(curvatures[variable] * curvatures[variable + 1]);
    matrix.diagonal().segment<2>(variable).array() += cost;
    matrix(variable, variable + 1) -= cost;
    matrix(variable + 1, variable) -= cost;
}

std::vector<double> minimise(const BoundedQuadratic& quadratic, const std::vector<double>& lower,
                             const std::vector<bool>& fixed, std::vector<double> start) {
    const std::size_t n = start.size();
    Eigen::Map<VectorXd> x(start.data(), static_cast<Index>(n));
    std::vector<bool> bound(n);
    for (std::size_t i = 0; i < n; ++i) bound[i] = !fixed[i] && start[i] <= lower[i];
    VectorXd residual = quadratic.rhs - quadratic.matrix * x;
    for (std::size_t iteration = 0; iteration < kMaxRoundsPerAmount * (n + 1); ++iteration) {
        std::vector<Index> free;
        for (std::size_t i = 0; i < n; ++i)
            if (!fixed[i] && !bound[i]) free.push_back(static_cast<Index>(i));
        const Eigen::LLT<Eigen::MatrixXd> root(quadratic.matrix(free, free));
        if (root.info() != Eigen::Success) break;  // singular to rounding: the best so far
        const VectorXd step = root.solve(residual(free));
        // As far in that direction as the bounds allow.
        double share = 1;
        Index stop = -1;
        for (Index k = 0; k < step.size(); ++k) {
            const Index i = free[static_cast<std::size_t>(k)];
            const double room = x[i] - as_vector(lower)[i];
            if (room + share * step[k] < 0) share = -room / step[k], stop = i;
        }
        x(free) += share * step;
        if (stop >= 0) x[stop] = as_vector(lower)[stop];
        residual = quadratic.rhs - quadratic.matrix * x;
        if (stop >= 0) {
            bound[static_cast<std::size_t>(stop)] = true;
            continue;
        }
        const Index next = max_violated_bound(quadratic, bound, residual);
        if (next < 0) break;
        bound[static_cast<std::size_t>(next)] = false;
    }
    return start;
}

}  // namespace fadewright::planner
