// The same job sprayed with the errors of a human hand, and the variation of a fade by them.
//
// Every pass is slightly too fast or too slow, too near or too far, and beside its line, by normally
// distributed errors that are constant along the pass. The random numbers depend on the seed, the run, the
// coat and the pass alone.
//
// Source: own derivation: the sizes asked of a robustness check are a tenth of the speed, 10 mm of distance,
//            5 mm of position; what real hands do has no published source.
// Holds for  errors small compared with the distance; speed errors are limited to three standard deviations
// Checks     tests/assess/operator_variability_test.cpp
#pragma once

#include "fadewright/assess/fade_methods.h"
#include "fadewright/plan/job.h"

#include <cstdint>
#include <vector>

namespace fadewright::assess {

struct OperatorError {  // standard deviations
    Share speed{0.10};
    Millimetres distance{10};
    Millimetres position{5};
};

[[nodiscard]] plan::Job perturb_job(const plan::Job& job, const OperatorError& error, std::uint64_t seed,
                                    std::uint64_t attempt);

// Variation by the hand of the operator: bounds of 90 % of the simulated runs, of L* at each sample and of
// the width.
struct OperatorVariability {
    std::vector<double> low_L, high_L;
    Millimetres min_width, max_width;
    int runs = 0;
};

[[nodiscard]] OperatorVariability operator_variability(const plan::Job& job, const AssessmentLine& line,
                                                       std::uint64_t seed, int runs);

}  // namespace fadewright::assess
