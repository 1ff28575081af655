// Random numbers that depend only on (seed, stream, index): the same picture for any number of threads.
//
// Counter-based: no state to share. The 64-bit finaliser of SplitMix is applied to a combination of the three
// keys. Source: [steele2014].
#pragma once

#include <cmath>
#include <cstdint>

namespace fadewright {

constexpr std::uint64_t splitmix64(std::uint64_t z) noexcept {
    z += 0x9E3779B97F4A7C15ull;
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9ull;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBull;
    return z ^ (z >> 31);
}

constexpr std::uint64_t random_bits(std::uint64_t seed, std::uint64_t stream, std::uint64_t index) noexcept {
    return splitmix64(splitmix64(splitmix64(seed) ^ stream) ^ index);
}

// Uniform in [0, 1) with 53 bits.
constexpr double uniform01(std::uint64_t seed, std::uint64_t stream, std::uint64_t index) noexcept {
    return static_cast<double>(random_bits(seed, stream, index) >> 11) * 0x1.0p-53;
}

// Inverse of the standard normal distribution: the value that a Gaussian variable of mean 0 and standard
// deviation 1 is below with a given probability. Turns uniform random numbers into Gaussian ones, one for
// one.
//
// Source: [acklam2003] (rational approximations).
// Holds for  0 < probability < 1
// Accuracy   1.2e-9 relative
// Checks     tests/base/normal_quantile_test.cpp, against erfc
inline double normal_quantile(double probability) noexcept {
    constexpr double a[] = {-3.969683028665376e+01, 2.209460984245205e+02,  -2.759285104469687e+02,
                            1.383577518672690e+02,  -3.066479806614716e+01, 2.506628277459239e+00};
    constexpr double b[] = {-5.447609879822406e+01, 1.615858368580409e+02, -1.556989798598866e+02,
                            6.680131188771972e+01, -1.328068155288572e+01};
    constexpr double c[] = {-7.784894002430293e-03, -3.223964580411365e-01, -2.400758277161838e+00,
                            -2.549732539343734e+00, 4.374664141464968e+00,  2.938163982698783e+00};
    constexpr double d[] = {7.784695709041462e-03, 3.224671290700398e-01, 2.445134137142996e+00,
                            3.754408661907416e+00};
    constexpr double tail = 0.02425;
    const auto in_tail = [&](double p) {
        const double q = std::sqrt(-2 * std::log(p));
        return (((((c[0] * q + c[1]) * q + c[2]) * q + c[3]) * q + c[4]) * q + c[5]) /
               ((((d[0] * q + d[1]) * q + d[2]) * q + d[3]) * q + 1);
    };
    if (probability < tail) return in_tail(probability);
    if (probability > 1 - tail) return -in_tail(1 - probability);
    const double q = probability - 0.5;
    const double r = q * q;
    return (((((a[0] * r + a[1]) * r + a[2]) * r + a[3]) * r + a[4]) * r + a[5]) * q /
           (((((b[0] * r + b[1]) * r + b[2]) * r + b[3]) * r + b[4]) * r + 1);
}

}  // namespace fadewright
