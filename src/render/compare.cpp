#include "fadewright/render/compare.h"

#include "fadewright/base/contract.h"
#include "fadewright/base/parallel.h"
#include "fadewright/colour/delta_e.h"
#include "fadewright/colour/srgb.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

namespace fadewright::render {
namespace {

using Bytes = std::array<std::uint8_t, 3>;

Bytes bytes_at(const Picture& picture, int x, int y) {
    const std::uint8_t* p = picture.pixel(x, y);
    return {p[0], p[1], p[2]};
}

// Row by row, CIEDE2000 of every pixel.
std::vector<float> pixel_differences(const Picture& a, const Picture& b) {
    std::vector<float> dE(static_cast<std::size_t>(a.width) * static_cast<std::size_t>(a.height));
    parallel_for(static_cast<std::size_t>(a.height), [&](std::size_t row) {
        const int y = static_cast<int>(row);
        float* out = dE.data() + row * static_cast<std::size_t>(a.width);
        for (int x = 0; x < a.width; ++x) {
            const Bytes p = bytes_at(a, x, y), q = bytes_at(b, x, y);
            if (p != q)
                out[x] =
                    static_cast<float>(colour::delta_e_2000(colour::lab_of_srgb(p), colour::lab_of_srgb(q)));
        }
    });
    return dE;
}

// Black, blue, green, yellow, white at 0, 1/4, 1/2, 3/4 and 1.
Bytes false_colour(double share) {
    constexpr std::array<std::array<double, 3>, 5> kStops{
        {{0, 0, 0}, {40, 60, 220}, {30, 180, 60}, {250, 220, 40}, {255, 255, 255}}};
    const double at = 4 * std::clamp(share, 0.0, 1.0);
    const auto i = std::min<std::size_t>(static_cast<std::size_t>(at), kStops.size() - 2);
    const double t = at - static_cast<double>(i);
    Bytes out{};
    for (std::size_t c = 0; c < out.size(); ++c)
        out[c] = static_cast<std::uint8_t>(std::lround(kStops[i][c] + t * (kStops[i + 1][c] - kStops[i][c])));
    return out;
}

bool same_size(const Picture& a, const Picture& b) { return a.width == b.width && a.height == b.height; }

}  // namespace

std::optional<Difference> difference(const Picture& a, const Picture& b) {
    FW_EXPECTS(a.channels == 3 && b.channels == 3);
    if (!same_size(a, b)) return std::nullopt;
    std::vector<float> dE = pixel_differences(a, b);
    Difference out;
    if (dE.empty()) return out;
    double sum = 0;
    for (const float d : dE) sum += static_cast<double>(d);
    out.mean = sum / static_cast<double>(dE.size());
    const auto worst = std::max_element(dE.begin(), dE.end());
    out.max = static_cast<double>(*worst);
    const auto index = static_cast<int>(worst - dE.begin());
    out.worst_x = index % a.width;
    out.worst_y = index / a.width;
    const auto excluded = static_cast<std::ptrdiff_t>(dE.size() / 1000);  // may be larger
    const auto at = dE.end() - 1 - excluded;
    std::nth_element(dE.begin(), at, dE.end());
    out.p999 = static_cast<double>(*at);
    return out;
}

Picture difference_picture(const Picture& a, const Picture& b, double full_dE) {
    FW_EXPECTS(a.channels == 3 && b.channels == 3 && same_size(a, b));
    FW_EXPECTS(full_dE > 0);
    const std::vector<float> dE = pixel_differences(a, b);
    Picture out(a.width, a.height, 3);
    for (std::size_t i = 0; i < dE.size(); ++i) {
        const Bytes bytes = false_colour(static_cast<double>(dE[i]) / full_dE);
        std::copy(bytes.begin(), bytes.end(), out.samples.begin() + static_cast<std::ptrdiff_t>(3 * i));
    }
    return out;
}

}  // namespace fadewright::render
