#include "fadewright/render/form_light.h"

#include <algorithm>
#include <cmath>

namespace fadewright::render {

double form_light(const spray::Slope& s) noexcept {
    constexpr double lamp[3] = {-0.35, 0.50, 0.7921489758877429};  // a unit vector
    const double length = std::sqrt(1 + s.dz_dx * s.dz_dx + s.dz_dy * s.dz_dy);
    const double facing = (-s.dz_dx * lamp[0] - s.dz_dy * lamp[1] + lamp[2]) / length;
    const double soft = (1 + 1 / length) / 2;
    return (kSoftShare * soft + (1 - kSoftShare) * std::max(0.0, facing)) /
           (kSoftShare + (1 - kSoftShare) * lamp[2]);
}

}  // namespace fadewright::render
