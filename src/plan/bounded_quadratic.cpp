#include "bounded_quadratic.h"

#include <algorithm>
#include <cmath>

namespace fadewright::plan {
namespace {

constexpr double kResidualTolerance = 1e-9;  // relative to the right-hand side
constexpr std::size_t kMaxRoundsPerAmount = 6;

// Cholesky factor of the matrix over the free variables, and the point where their gradient is zero.
class FreeMinimum {
public:
    FreeMinimum(const BoundedQuadratic& quadratic, const std::vector<std::size_t>& free,
                const std::vector<double>& x)
        : n_(free.size()), factor_(n_ * n_), solution_(n_) {
        for (std::size_t i = 0; i < n_; ++i) {
            double right = quadratic.rhs[free[i]];
            std::size_t next = 0;
            for (std::size_t j = 0; j < quadratic.count(); ++j) {
                if (next < n_ && free[next] == j) {
                    ++next;
                } else {
                    right -= quadratic.at(free[i], j) * x[j];
                }
            }
            solution_[i] = right;
            for (std::size_t j = 0; j <= i; ++j) factor_[i * n_ + j] = quadratic.at(free[i], free[j]);
        }
        factorise();
        solve();
    }
    [[nodiscard]] const std::vector<double>& solution() const noexcept { return solution_; }

private:
    void factorise() {
        for (std::size_t i = 0; i < n_; ++i) {
            double* row = factor_.data() + i * n_;
            for (std::size_t j = 0; j <= i; ++j) {
                const double* other = factor_.data() + j * n_;
                double sum = row[j];
                for (std::size_t k = 0; k < j; ++k) sum -= row[k] * other[k];
                row[j] = i == j ? std::sqrt(std::max(sum, 1e-300)) : sum / other[j];
            }
        }
    }

    void solve() {
        for (std::size_t i = 0; i < n_; ++i) {
            for (std::size_t k = 0; k < i; ++k) solution_[i] -= factor_[i * n_ + k] * solution_[k];
            solution_[i] /= factor_[i * n_ + i];
        }
        for (std::size_t i = n_; i-- > 0;) {
            for (std::size_t k = i + 1; k < n_; ++k) solution_[i] -= factor_[k * n_ + i] * solution_[k];
            solution_[i] /= factor_[i * n_ + i];
        }
    }

    std::size_t n_;
    std::vector<double> factor_, solution_;
};

// The variable at its bound with the largest descent upwards; count() if there is none.
std::size_t max_violated_bound(const BoundedQuadratic& quadratic, const std::vector<bool>& bound,
                               const std::vector<double>& x) {
    std::size_t worst = quadratic.count();
    double max_residual = 0;
    for (std::size_t i = 0; i < x.size(); ++i) {
        if (!bound[i]) continue;
        double residual = quadratic.residual(x, i);
        if (residual <= kResidualTolerance * std::abs(quadratic.rhs[i])) continue;
        residual /= std::sqrt(quadratic.at(i, i));  // scaled, so that units do not matter
        if (residual > max_residual) max_residual = residual, worst = i;
    }
    return worst;
}

}  // namespace

double BoundedQuadratic::value(const std::vector<double>& x) const noexcept {
    double value = 0;
    for (std::size_t a = 0; a < x.size(); ++a)
        if (x[a] != 0) value -= x[a] * (residual(x, a) + rhs[a]);
    return value;
}

double BoundedQuadratic::residual(const std::vector<double>& x, std::size_t amount) const noexcept {
    double residual = rhs[amount];
    for (std::size_t b = 0; b < x.size(); ++b) residual -= at(amount, b) * x[b];
    return residual;
}

std::vector<double> minimise(const BoundedQuadratic& quadratic, const std::vector<double>& lower,
                             const std::vector<bool>& fixed, std::vector<double> start) {
    std::vector<double> x = std::move(start);
    const std::size_t n = x.size();
    std::vector<bool> bound(n);
    for (std::size_t i = 0; i < n; ++i) bound[i] = !fixed[i] && x[i] <= lower[i];
    for (std::size_t iteration = 0; iteration < kMaxRoundsPerAmount * (n + 1); ++iteration) {
        std::vector<std::size_t> free;
        for (std::size_t i = 0; i < n; ++i)
            if (!fixed[i] && !bound[i]) free.push_back(i);
        const FreeMinimum lowest(quadratic, free, x);
        // As far in that direction as the bounds allow.
        double part = 1;
        std::size_t stop = n;
        for (std::size_t k = 0; k < free.size(); ++k) {
            const double from = x[free[k]], to = lowest.solution()[k];
            if (to >= lower[free[k]]) continue;
            const double step = (from - lower[free[k]]) / (from - to);
            if (step < part) part = step, stop = free[k];
        }
        for (std::size_t k = 0; k < free.size(); ++k)
            x[free[k]] += part * (lowest.solution()[k] - x[free[k]]);
        if (stop < n) {
            x[stop] = lower[stop];
            bound[stop] = true;
            continue;
        }
        const std::size_t next = max_violated_bound(quadratic, bound, x);
        if (next == n) break;
        bound[next] = false;
    }
    return x;
}

}  // namespace fadewright::plan
