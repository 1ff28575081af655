#include "fadewright/base/parallel.h"
#include "fadewright/render/tune.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace fadewright::render {

HandBand hand_band(const plan::Job& job, const JudgedLine& line, std::uint64_t seed, int tries) {
    std::vector<std::vector<FadePlace>> laid(static_cast<std::size_t>(tries));
    std::vector<double> widths(laid.size(), std::numeric_limits<double>::quiet_NaN());
    for_each_index(laid.size(), [&](std::size_t i) {
        laid[i] = fade_places(laid_unsteadily(job, {}, seed, i), line, kFadePlaces);
        if (const auto figures = fade_figures(laid[i], {job.view_distance, {}}))
            widths[i] = figures->width.value;
    });
    const auto bound = [](std::vector<double> values, double share) {
        std::sort(values.begin(), values.end());
        return values[static_cast<std::size_t>(std::lround(share * static_cast<double>(values.size() - 1)))];
    };
    HandBand band;
    band.tries = tries;
    for (std::size_t k = 0; k < kFadePlaces; ++k) {
        std::vector<double> L;
        for (const auto& places : laid) L.push_back(places[k].lab.L);
        band.low_L.push_back(bound(L, 0.05));
        band.high_L.push_back(bound(L, 0.95));
    }
    widths.erase(std::remove_if(widths.begin(), widths.end(), [](double w) { return std::isnan(w); }),
                 widths.end());
    if (!widths.empty()) {
        band.narrowest = Millimetres{bound(widths, 0.05)};
        band.widest = Millimetres{bound(widths, 0.95)};
    }
    return band;
}

}  // namespace fadewright::render
