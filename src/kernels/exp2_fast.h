// 2^-t in vectors: an integer power of two times the Taylor series of the rest, which is at most 1/2.
// No branches, so that loops of it are vectorised; the same bits for every vector width.
#pragma once

#include <array>
#include <bit>
#include <cstddef>
#include <cstdint>

namespace fadewright::kernels {

// Constants of a floating-point type. kMaxExponent: largest t for which 2^-t is a normal number. kRound:
// adding and subtracting it rounds to integers and leaves them in the lowest bits. kTerms: terms of the
// series that are used.
template <class Real>
struct Exp2Traits;

template <>
struct Exp2Traits<double> {
    using Bits = std::uint64_t;
    static constexpr double kMaxExponent = 1000, kRound = 0x1.8p52;
    static constexpr int kTerms = 13, kMantissa = 52;
    static constexpr Bits kBias = 1023;
};

template <>
struct Exp2Traits<float> {
    using Bits = std::uint32_t;
    static constexpr float kMaxExponent = 120, kRound = 0x1.8p23f;
    static constexpr int kTerms = 6, kMantissa = 23;
    static constexpr Bits kBias = 127;
};

inline constexpr double kLn2 = 0.693147180559945309;

// ln(2)^k / k!
inline constexpr std::array<double, 14> kExp2Series = [] {
    std::array<double, 14> terms{1};
    for (std::size_t k = 1; k < terms.size(); ++k) terms[k] = terms[k - 1] * kLn2 / static_cast<double>(k);
    return terms;
}();

// 2^-t = power (1 + excess), for t up to kMaxExponent, and down to -kMaxExponent for float.
template <class Real>
struct Exp2Parts {
    Real power, excess;
};

template <class Real>
[[gnu::always_inline]] inline Exp2Parts<Real> exp2_neg_parts(Real t) {
    using N = Exp2Traits<Real>;
    const Real shifted = N::kRound - t;
    const Real rounded = shifted - N::kRound;
    const Real rest = -(t + rounded);
    Real p = static_cast<Real>(kExp2Series[N::kTerms]);
#pragma GCC unroll 16
    for (int k = N::kTerms - 1; k > 0; --k)
        p = p * rest + static_cast<Real>(kExp2Series[static_cast<std::size_t>(k)]);
    const auto bits = std::bit_cast<typename N::Bits>(shifted);
    return {std::bit_cast<Real>((bits + N::kBias) << N::kMantissa), p * rest};
}

// 1 - 2^-t, accurate for small t too.
template <class Real>
[[gnu::always_inline]] inline Real one_minus_exp2_neg(Real t) {
    const Exp2Parts<Real> half = exp2_neg_parts(t);
    return (1 - half.power) - half.power * half.excess;
}

template <class Real>
[[gnu::always_inline]] inline Real exp2_neg(Real t) {
    const Exp2Parts<Real> half = exp2_neg_parts(t);
    return half.power + half.power * half.excess;
}

}  // namespace fadewright::kernels
