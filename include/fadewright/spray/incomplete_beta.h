// Incomplete beta: cumulative share of a fan, the integral of (1 - u^2)^(beta-1) from -1 to u.
//
//     share(u)  = integral from -1 to u of (1 - t^2)^(beta-1) dt / N          0 to 1
//     moment(u) = integral from -1 to u of t (1 - t^2)^(beta-1) dt / N        0 or less
//     N         = integral from -1 to 1 of (1 - t^2)^(beta-1) dt = Beta(1/2, beta)
//
// The moment is elementary, m(u) = -(1 - u^2)^beta / (2 beta N). The share is the regularised incomplete beta
// function I_z(beta, beta) at z = (1 + u)/2. Its tail is -m(u) F(2 beta, 1; beta + 1; (1 - |u|)/2) with
// Gauss's F, which is smooth on the half interval that is needed: it is stored as a Chebyshev series, so one
// power and a short sum give both.
//
// Symbols    u coordinate, in half lengths of the slice; beta exponent
// Source: [olver2010] 8.17.8 (incomplete beta as F), 3.11.7 (Chebyshev).
// Holds for  beta from 1 to 50 (contract)
// Accuracy   share within 1e-12 of exact values and of numerical integration
// Checks     tests/spray/incomplete_beta_test.cpp
#pragma once

#include <array>
#include <cmath>
#include <cstddef>

namespace fadewright::spray {

// x to a fixed power, fast where twice the power is a small integer.
class FixedPower {
public:
    explicit FixedPower(double exponent) noexcept;

    [[nodiscard]] double operator()(double x) const noexcept {
        if (halves_ < 0) return std::pow(x, exponent_);
        double power = halves_ % 2 == 1 ? std::sqrt(x) : 1.0;
        for (int i = 1; i < halves_; i += 2) power *= x;
        return power;
    }
    [[nodiscard]] double exponent() const noexcept { return exponent_; }
    // Twice the exponent where that is a small integer, else -1.
    [[nodiscard]] int halves() const noexcept { return halves_; }

private:
    double exponent_;
    int halves_ = -1;
};

// Cumulative share of the whole, and its first moment about the centre.
struct Cumulative {
    double share;
    double moment;
};

[[nodiscard]] double beta_function(double p, double q) noexcept;

class IncompleteBeta {
public:
    explicit IncompleteBeta(double beta);

    [[nodiscard]] double total() const noexcept { return total_; }  // N
    [[nodiscard]] double exponent() const noexcept { return power_.exponent(); }

    [[nodiscard]] Cumulative cumulative(double u) const noexcept {
        if (u <= -1) return {0, 0};
        if (u >= 1) return {1, 0};
        const double m = power_((1 - u) * (1 + u)) * moment_scale_;
        const double tail = m * series(1 - 2 * std::abs(u));
        return {u > 0 ? 1 - tail : tail, -m};
    }

private:
    static constexpr std::size_t kMaxTerms = 32;

    // F where 0 <= (1 - |u|)/2 <= 1/2, as a Chebyshev series in c = 1 - 2|u|, by Clenshaw's recurrence.
    [[nodiscard]] double series(double c) const noexcept {
        double b1 = 0, b2 = 0;
        for (std::size_t k = terms_; k-- > 1;) {
            const double b0 = 2 * c * b1 - b2 + chebyshev_[k];
            b2 = b1;
            b1 = b0;
        }
        return c * b1 - b2 + chebyshev_[0];
    }

    FixedPower power_;
    double total_;
    double moment_scale_;  // 1 / (2 beta N)
    std::size_t terms_ = kMaxTerms;
    std::array<double, kMaxTerms> chebyshev_{};
};

}  // namespace fadewright::spray
