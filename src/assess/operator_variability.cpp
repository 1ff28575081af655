#include "fadewright/assess/operator_variability.h"

#include "fadewright/base/parallel.h"
#include "fadewright/base/random.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace fadewright::assess {
namespace {

constexpr double kMaxDeviations = 3;
constexpr Millimetres kMinDistance{5};

class NormalErrors {
public:
    NormalErrors(std::uint64_t seed, std::uint64_t attempt, std::size_t coat)
        : seed_(seed), stream_(random_bits(attempt, coat, 0)) {}

    [[nodiscard]] double next() {
        const double z = normal_quantile(uniform01(seed_, stream_, index_++));
        return std::clamp(z, -kMaxDeviations, kMaxDeviations);
    }

private:
    std::uint64_t seed_, stream_, index_ = 1;
};

spray::Pass perturb_pass(spray::Pass pass, const spray::Gun& gun, const OperatorError& error,
                         NormalErrors& errors) {
    const double speed_factor = 1 + error.speed.value * errors.next();
    const Millimetres distance_error = error.distance.value * Millimetres{errors.next()};
    const Millimetres dx = error.position.value * Millimetres{errors.next()};
    const Millimetres dy = error.position.value * Millimetres{errors.next()};
    pass.speed = speed_factor * pass.speed;
    for (MillimetresPerSecond& speed : pass.speeds) speed = speed_factor * speed;
    const bool own = pass.distance && pass.distance->value > 0;
    pass.distance = std::max(kMinDistance, (own ? *pass.distance : gun.distance) + distance_error);
    for (Millimetres& distance : pass.distances) distance = std::max(kMinDistance, distance + distance_error);
    for (geometry::Point& p : pass.points) p = {p.x + dx, p.y + dy};
    if (pass.arc) pass.arc->centre = {pass.arc->centre.x + dx, pass.arc->centre.y + dy};
    return pass;
}

}  // namespace

plan::Job perturb_job(const plan::Job& job, const OperatorError& error, std::uint64_t seed,
                      std::uint64_t attempt) {
    plan::Job out = job;
    for (std::size_t c = 0; c < out.coats.size(); ++c) {
        plan::ResolvedCoat& coat = out.coats[c];
        if (!coat.deposit || !coat.gun) continue;
        NormalErrors errors(seed, attempt, c);
        for (spray::Pass& pass : coat.passes) pass = perturb_pass(pass, *coat.gun, error, errors);
        coat.deposit.emplace(*coat.gun, coat.passes, job.panel.relief);
    }
    return out;
}

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

}  // namespace fadewright::assess
