#include "fadewright/render/operator_error.h"

#include "fadewright/base/random.h"

#include <algorithm>

namespace fadewright::render {
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
    for (spray::Point& p : pass.points) p = {p.x + dx, p.y + dy};
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

}  // namespace fadewright::render
