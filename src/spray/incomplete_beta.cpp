#include "fadewright/spray/incomplete_beta.h"

#include "fadewright/base/contract.h"

#include <algorithm>
#include <numbers>

namespace fadewright::spray {
namespace {

constexpr double kMaxBeta = 50;

// Gauss's F(a, 1; c; z) for 0 <= z <= 1/2: every term is positive, so nothing cancels.
double gauss_f(double a, double c, double z) noexcept {
    double sum = 1;
    double term = 1;
    for (int n = 0; term > 1e-18 * sum; ++n) {
        term *= (a + n) / (c + n) * z;
        sum += term;
    }
    return sum;
}

}  // namespace

FixedPower::FixedPower(double exponent) noexcept : exponent_(exponent) {
    constexpr double max_halves = 16;  // above, std::pow is faster
    const double halves = 2 * exponent;
    if (halves >= 0 && halves <= max_halves && halves == std::floor(halves))
        halves_ = static_cast<int>(halves);
}

double beta_function(double p, double q) noexcept {
    return std::exp(std::lgamma(p) + std::lgamma(q) - std::lgamma(p + q));
}

IncompleteBeta::IncompleteBeta(double beta)
    : power_(beta), total_(beta_function(0.5, beta)), moment_scale_(1 / (2 * beta * total_)) {
    FW_EXPECTS(beta >= 1 && beta <= kMaxBeta);
    std::array<double, kMaxTerms> at_node{};
    const auto angle = [](std::size_t k) {
        return std::numbers::pi * (static_cast<double>(k) + 0.5) / static_cast<double>(kMaxTerms);
    };
    for (std::size_t k = 0; k < kMaxTerms; ++k)
        at_node[k] = gauss_f(2 * beta, beta + 1, (1 + std::cos(angle(k))) / 4);
    for (std::size_t j = 0; j < kMaxTerms; ++j) {
        double sum = 0;
        for (std::size_t k = 0; k < kMaxTerms; ++k)
            sum += at_node[k] * std::cos(static_cast<double>(j) * angle(k));
        chebyshev_[j] = (j == 0 ? 1 : 2) * sum / static_cast<double>(kMaxTerms);
    }
    // Terms below rounding are dropped.
    while (terms_ > 1 && std::abs(chebyshev_[terms_ - 1]) < 1e-15 * chebyshev_[0]) --terms_;
}

}  // namespace fadewright::spray
