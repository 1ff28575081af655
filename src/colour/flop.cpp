#include "fadewright/colour/flop.h"

#include <cmath>

namespace fadewright::colour {

// Source: [alman1987].
double flop_index(double L15, double L45, double L110) noexcept {
    constexpr double kScale = 2.69, kFall = 1.11, kBody = 0.86;
    if (!(L15 > L110) || !(L45 > 0)) return 0;
    return kScale * std::pow(L15 - L110, kFall) / std::pow(L45, kBody);
}

}  // namespace fadewright::colour
