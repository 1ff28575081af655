#include "fadewright/kernels/quick_srgb.h"

#include "wide.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace fadewright::kernels::quick {
namespace {

FW_WIDE void encode(float* values, std::size_t count) {
    constexpr float kStraightBelow = 0.0031308f, kStraightSlope = 12.92f;
    // Fourth roots from there to 1, stretched to -1 to 1; the polynomial is a rounding above 1 at its end.
    constexpr float kPerHalf = 2.6188585f, kMiddle = 1.6188585f;
    for (std::size_t i = 0; i < count; ++i) {
        const float v = std::min(1.0f, std::max(0.0f, values[i]));
        const float u = std::sqrt(std::sqrt(v)) * kPerHalf - kMiddle;
        float p = 3.9018079e-05f;
        p = p * u - 8.5314095e-05f;
        p = p * u + 0.00012330688f;
        p = p * u - 0.00038194875f;
        p = p * u + 0.0014242606f;
        p = p * u - 0.0068934462f;
        p = p * u + 0.10031979f;
        p = p * u + 0.48721534f;
        p = p * u + 0.41823906f;
        const float straight = kStraightSlope * v;
        values[i] = std::min(1.0f, v <= kStraightBelow ? straight : p);
    }
}

}  // namespace

void encode_srgb(std::span<float> linear) { encode(linear.data(), linear.size()); }

}  // namespace fadewright::kernels::quick
