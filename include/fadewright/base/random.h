// Random numbers that depend only on (seed, stream, index): the same picture for any number of threads.
//
// Counter-based: no state to share. The 64-bit finaliser of SplitMix is applied to a combination of the three
// keys. Source: [steele2014].
#pragma once

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

}  // namespace fadewright
