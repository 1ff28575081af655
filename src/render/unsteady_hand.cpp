#include "fadewright/render/unsteady_hand.h"

#include "fadewright/base/normal.h"
#include "fadewright/base/random.h"

#include <algorithm>

namespace fadewright::render {
namespace {

constexpr double kMostDeviations = 3;
constexpr Millimetres kNearest{5};

class Errors {
public:
    Errors(std::uint64_t seed, std::uint64_t attempt, std::size_t coat)
        : seed_(seed), stream_(random_bits(attempt, coat, 0)) {}

    [[nodiscard]] double next() {
        const double z = normal_quantile(random_unit(seed_, stream_, index_++));
        return std::clamp(z, -kMostDeviations, kMostDeviations);
    }

private:
    std::uint64_t seed_, stream_, index_ = 1;
};

spray::Pass unsteady(spray::Pass pass, const spray::Gun& gun, const HandError& error, Errors& errors) {
    const double faster = 1 + error.speed.value * errors.next();
    const Millimetres farther = error.distance.value * Millimetres{errors.next()};
    const Millimetres dx = error.place.value * Millimetres{errors.next()};
    const Millimetres dy = error.place.value * Millimetres{errors.next()};
    pass.speed = faster * pass.speed;
    for (MillimetresPerSecond& speed : pass.speeds) speed = faster * speed;
    const bool own = pass.distance && pass.distance->value > 0;
    pass.distance = std::max(kNearest, (own ? *pass.distance : gun.distance) + farther);
    for (Millimetres& distance : pass.distances) distance = std::max(kNearest, distance + farther);
    for (spray::Point& p : pass.points) p = {p.x + dx, p.y + dy};
    if (pass.arc) pass.arc->centre = {pass.arc->centre.x + dx, pass.arc->centre.y + dy};
    return pass;
}

}  // namespace

plan::Job laid_unsteadily(const plan::Job& job, const HandError& error, std::uint64_t seed,
                          std::uint64_t attempt) {
    plan::Job out = job;
    for (std::size_t c = 0; c < out.coats.size(); ++c) {
        plan::ReadyCoat& coat = out.coats[c];
        if (!coat.deposit || !coat.gun) continue;
        Errors errors(seed, attempt, c);
        for (spray::Pass& pass : coat.passes) pass = unsteady(pass, *coat.gun, error, errors);
        coat.deposit.emplace(*coat.gun, coat.passes, job.panel.relief);
    }
    return out;
}

}  // namespace fadewright::render
