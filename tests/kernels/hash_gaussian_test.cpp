// Gaussian numbers from hashes: their moments, the independence of numbers and keys, and the vector version.
#include "fadewright/kernels/hash_gaussian.h"

#include "fadewright/base/random.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <vector>

using namespace fadewright;
using namespace fadewright::kernels;

namespace {

std::vector<double> row_of(std::uint64_t key, std::size_t count) {
    std::vector<double> out;
    for (std::size_t i = 0; i < count; ++i)
        out.push_back(static_cast<double>(hash_gaussian(key, static_cast<std::uint32_t>(i))));
    return out;
}

}  // namespace

TEST_CASE("the cubic of four uniform bytes has the moments of a Gaussian", "[kernels]") {
    // All sums of four bytes, weighted by the number of hashes.
    std::vector<double> hashes{1};
    for (int byte = 0; byte < 4; ++byte) {
        std::vector<double> next_hashes(hashes.size() + 255, 0.0);
        for (std::size_t sum = 0; sum < hashes.size(); ++sum)
            for (std::size_t v = 0; v < 256; ++v) next_hashes[sum + v] += hashes[sum] / 256;
        hashes = next_hashes;
    }
    double mean = 0, square = 0, fourth = 0, sixth = 0;
    for (std::size_t sum = 0; sum < hashes.size(); ++sum) {
        // A hash with that sum: byte by byte.
        std::uint32_t hash = 0;
        std::size_t left = sum;
        for (int byte = 0; byte < 4; ++byte) {
            const std::size_t v = std::min<std::size_t>(left, 255);
            hash |= static_cast<std::uint32_t>(v) << (8 * byte);
            left -= v;
        }
        const double z = static_cast<double>(gaussian_from_hash(hash));
        mean += hashes[sum] * z;
        square += hashes[sum] * z * z;
        fourth += hashes[sum] * std::pow(z, 4);
        sixth += hashes[sum] * std::pow(z, 6);
    }
    CHECK(std::abs(mean) < 1e-6);
    CHECK(std::abs(square - 1) < 1e-6);
    CHECK(std::abs(fourth - 3) < 1e-5);
    CHECK(std::abs(sixth - 14.46) < 0.01);
    CHECK(std::abs(static_cast<double>(gaussian_from_hash(0xffffffffu)) - 4.04) < 0.005);
    CHECK(gaussian_from_hash(0) == -gaussian_from_hash(0xffffffffu));
}

TEST_CASE("neighbouring numbers and keys are uncorrelated", "[kernels][property]") {
    constexpr std::size_t kCount = 200000;
    const double margin = 4 / std::sqrt(static_cast<double>(kCount));
    for (const std::uint64_t seed : {1ull, 2ull, 77ull}) {
        const std::vector<double> row = row_of(splitmix64(seed), kCount),
                                  next = row_of(splitmix64(seed + 1), kCount);
        double mean = 0, square = 0, neighbour_product = 0, second_neighbour_product = 0,
               next_key_product = 0, neighbour_squares = 0;
        for (std::size_t i = 0; i + 2 < kCount; ++i) {
            mean += row[i];
            square += row[i] * row[i];
            neighbour_product += row[i] * row[i + 1];
            second_neighbour_product += row[i] * row[i + 2];
            next_key_product += row[i] * next[i];
            neighbour_squares += (row[i] * row[i] - 1) * (row[i + 1] * row[i + 1] - 1);
        }
        CAPTURE(seed);
        for (const double sum : {mean, neighbour_product, second_neighbour_product, next_key_product})
            CHECK(std::abs(sum / kCount) < margin);
        CHECK(std::abs(square / kCount - 1) < std::sqrt(2.0) * margin);
        CHECK(std::abs(neighbour_squares / kCount) < 2 * margin);
    }
}

TEST_CASE("many numbers at once are the same as one by one", "[kernels][quick]") {
    for (const std::size_t count : {0u, 1u, 7u, 8u, 33u, 100u}) {
        std::vector<std::uint32_t> numbers;
        for (std::size_t i = 0; i < count; ++i) numbers.push_back(static_cast<std::uint32_t>(splitmix64(i)));
        std::vector<float> out(count);
        const std::uint64_t key = splitmix64(count);
        hash_gaussians(key, numbers, out);
        for (std::size_t i = 0; i < count; ++i) CHECK(out[i] == hash_gaussian(key, numbers[i]));
    }
}
