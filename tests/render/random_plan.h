// Plans for tests: random ones that a seed makes the same every time, and their mirror images.
#pragma once

#include <cstdint>
#include <string>

namespace fadewright::test {

// A plan with random panel, ground, mixes, guns, sweeps and passes. With mirrored, the same job seen in a
// mirror: every place x becomes width - x.
[[nodiscard]] std::string random_plan(std::uint64_t seed, bool mirrored = false);

}  // namespace fadewright::test
