#include "fadewright/base/parallel.h"
#include "fadewright/render/tune.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace fadewright::render {

OperatorVariability operator_variability(const plan::Job& job, const AssessmentLine& line, std::uint64_t seed,
                                         int runs) {
    std::vector<std::vector<FadeSample>> samples(static_cast<std::size_t>(runs));
    std::vector<double> widths(samples.size(), std::numeric_limits<double>::quiet_NaN());
    parallel_for(samples.size(), [&](std::size_t i) {
        samples[i] = fade_samples(perturb_job(job, {}, seed, i), line, kFadeSamples);
        if (const auto metrics = fade_metrics(samples[i], {job.view_distance, {}}))
            widths[i] = metrics->width.value;
    });
    const auto bound = [](std::vector<double> values, double share) {
        std::sort(values.begin(), values.end());
        return values[static_cast<std::size_t>(std::lround(share * static_cast<double>(values.size() - 1)))];
    };
    OperatorVariability out;
    out.runs = runs;
    for (std::size_t k = 0; k < kFadeSamples; ++k) {
        std::vector<double> L;
        for (const auto& run : samples) L.push_back(run[k].lab.L);
        out.low_L.push_back(bound(L, 0.05));
        out.high_L.push_back(bound(L, 0.95));
    }
    widths.erase(std::remove_if(widths.begin(), widths.end(), [](double w) { return std::isnan(w); }),
                 widths.end());
    if (!widths.empty()) {
        out.min_width = Millimetres{bound(widths, 0.05)};
        out.max_width = Millimetres{bound(widths, 0.95)};
    }
    return out;
}

}  // namespace fadewright::render
