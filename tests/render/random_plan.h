// Plans for tests: random but reproducible by a seed, and their mirror images.
#pragma once

#include <cstdint>
#include <string>

namespace fadewright::test {

// A plan with random panel, ground, mixes, guns, sweeps and passes. With mirrored, the mirror image
// of the same job: every x becomes width - x.
[[nodiscard]] std::string random_plan(std::uint64_t seed, bool mirrored = false);

}  // namespace fadewright::test
