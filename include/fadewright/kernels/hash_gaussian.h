// Gaussian numbers that depend only on a key and a number, without state or tables: for large amounts of
// noise.
//
// The 32 bits of a hash are taken as four uniform bytes. Their sum t, in standard deviations, has a fourth
// moment of 2.7; the cubic z = t (alpha + beta t^2) gives it the 3 of the normal distribution and leaves the
// variance at 1.
//
// Source: [wellons2018] (hash: two rounds of multiply and shift with constants chosen for low bias; the
//            second half of the key added between them); the cubic is our own derivation.
// Holds for  any key and number; keys are hashed first (base/random.h)
// Accuracy   variance 1 and fourth moment 3 to 1e-6 over all hashes, sixth moment 14.5 (normal: 15); largest
//            value 4.04
// Checks     tests/kernels/hash_gaussian_test.cpp
#pragma once

#include <cstdint>
#include <span>

namespace fadewright::kernels {

constexpr std::uint32_t keyed_hash(std::uint64_t key, std::uint32_t number) noexcept {
    std::uint32_t h = number ^ static_cast<std::uint32_t>(key);
    h = (h ^ (h >> 16)) * 0x7feb352du;
    h = ((h ^ (h >> 15)) + static_cast<std::uint32_t>(key >> 32)) * 0x846ca68bu;
    return h ^ (h >> 16);
}

constexpr float gaussian_from_hash(std::uint32_t hash) noexcept {
    constexpr float kPerDeviation = 1 / 147.80053f, kAlpha = 0.94903328f, kBeta = 0.018642383f;
    const std::uint32_t pairs = (hash & 0x00ff00ffu) + ((hash >> 8) & 0x00ff00ffu);
    const auto sum = static_cast<std::int32_t>((pairs & 0xffffu) + (pairs >> 16));
    const float t = static_cast<float>(sum - 510) * kPerDeviation;
    return t * (kAlpha + kBeta * (t * t));
}

constexpr float hash_gaussian(std::uint64_t key, std::uint32_t number) noexcept {
    return gaussian_from_hash(keyed_hash(key, number));
}

// Many numbers: out[i] = hash_gaussian(key, numbers[i]).
void hash_gaussians(std::uint64_t key, std::span<const std::uint32_t> numbers, std::span<float> out);

namespace fast {

// Lognormal factors of mean 1 from Gaussian noise z: exp(s z - s^2/2), s the standard deviation of the
// logarithm.
//
// Source: own derivation (the mean of a lognormal variable).
// Holds for  s >= 0; the factor is 1 for s = 0, and clamped to 2^-120 to 2^120
// Accuracy   relative 1e-6 for factors from 1e-3 to 1e3; the same bits for every vector width
// Checks     tests/kernels/lognormal_factors_test.cpp
//
// All spans have the same length.
void lognormal_factors(std::span<const float> deviations, std::span<const float> noise,
                       std::span<float> factors);

}  // namespace fast
}  // namespace fadewright::kernels
