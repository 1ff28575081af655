// Striping: lines in a coat from pass to pass.
//
// At least three consecutive straight passes at one spacing form a train; trains over the same area
// add up, with their phases if they are parallel. The visible part is the ripple times the eye's response
// (film/graininess.h) at that number of stripes per degree, not less than kBroadStripeResponse.
//
// Source: own derivation; the limits are starting values.
// Checks     tests/assess/defects_test.cpp
#pragma once

#include "fadewright/plan/job.h"

#include <vector>

namespace fadewright::assess {

inline constexpr double kVisibleStriping = 0.01;  // ripple of the film that is just visible, at best
inline constexpr double kObviousStriping = 0.04;
inline constexpr double kBroadStripeResponse = 0.2;

struct Striping {
    Millimetres spacing;             // of the strongest train
    double half_range = 0;           // over the mean film
    geometry::Box area{0, 0, 0, 0};  // of the passes
};
[[nodiscard]] std::vector<Striping> find_striping(const plan::ResolvedCoat& coat);
// Ripple of the film that is just visible from that distance.
[[nodiscard]] double striping_threshold(Millimetres spacing, Millimetres viewing_distance) noexcept;

}  // namespace fadewright::assess
