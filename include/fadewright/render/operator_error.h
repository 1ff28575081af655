// The same job laid by a hand that is not quite steady.
//
// Every movement of the gun goes a little too fast or too slow, too near or too far, and beside its line, by
// normal errors of its own, the same all along it. Random numbers depend on the seed, the try, the coat and the
// movement alone.
//
// Source: own derivation: the sizes asked of a robustness check are a tenth of the speed, 10 mm of distance,
//            5 mm of position; what real hands do has no published source.
// Holds for  errors small against the distance; speed errors are cut at three deviations
// Checks     tests/render/unsteady_hand_test.cpp
#pragma once

#include "fadewright/plan/job.h"

#include <cstdint>

namespace fadewright::render {

struct OperatorError {  // standard deviations
    Share speed{0.10};
    Millimetres distance{10};
    Millimetres position{5};
};

[[nodiscard]] plan::Job perturb_job(const plan::Job& job, const OperatorError& error, std::uint64_t seed,
                                    std::uint64_t attempt);

}  // namespace fadewright::render
