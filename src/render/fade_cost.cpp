#include "fadewright/render/fade_cost.h"

#include "fadewright/paint/mix.h"
#include "fadewright/render/dot_grain.h"
#include "fadewright/render/spectra.h"

#include <algorithm>
#include <cmath>

namespace fadewright::render {
namespace {

void add_use(const std::string& mix, Millilitres amount, std::vector<PaintUse>& uses) {
    const auto known =
        std::find_if(uses.begin(), uses.end(), [&](const PaintUse& use) { return use.mix == mix; });
    if (known == uses.end()) {
        uses.push_back({mix, amount});
    } else {
        known->sprayed = known->sprayed + amount;
    }
}

double greatest_grain_L(const plan::Job& job, std::span<const double> x, std::span<const double> y) {
    const DotGrain grain(job, job.coats.size());
    if (!grain.any()) return 0;
    std::vector<double> roots(x.size());
    const SeenJob seen(job, job.light, job.coats.size());
    const SeenJob::Laid laid = seen.laid(x, y);
    grain.roots_mm(laid.films, laid.grounds, roots);
    std::vector<colour::XYZ> xyz(x.size());
    seen.xyz(laid, xyz);
    double greatest = 0;
    for (std::size_t i = 0; i < x.size(); ++i) {
        const double Y = xyz[i].Y / seen.white().Y;
        greatest = std::max(greatest, seen_grain_L(roots[i], Y, job.view_distance));
    }
    return greatest;
}

void keep_worse(const Fault& fault, Fault& worst) {
    const bool first = worst.words.empty();
    if (first || fault.level > worst.level || (fault.level == worst.level && fault.figure > worst.figure))
        worst = fault;
}

}  // namespace

FadeCost fade_cost(const plan::Job& job, std::span<const plan::Point> places) {
    FadeCost cost;
    for (const plan::ReadyCoat& coat : job.coats) {
        if (coat.deposit) {
            cost.passes += coat.deposit->passes();
            cost.gun_time = cost.gun_time + coat.deposit->trigger_time();
            add_use(coat.mix_name, coat.deposit->sprayed(), cost.paint);
        }
        if (coat.cover.value > 0)
            add_use(coat.mix_name,
                    spray::paint_in_film(paint::wet_film(coat.mix, coat.cover), job.panel.area_m2()),
                    cost.paint);
    }
    std::vector<double> x, y;
    for (const plan::Point& p : places) {
        x.push_back(p.x.value);
        y.push_back(p.y.value);
        double film = 0;
        for (const plan::ReadyCoat& coat : job.coats) film += coat.film_um(p.x.value, p.y.value);
        cost.most_film = std::max(cost.most_film, Micrometres{film});
    }
    cost.grain_L = greatest_grain_L(job, x, y);
    for (const Fault& fault : faults(job)) {
        if (fault.kind == FaultKind::sag) keep_worse(fault, cost.sag);
        if (fault.kind == FaultKind::dry) keep_worse(fault, cost.dry);
        if (fault.kind == FaultKind::ripple) keep_worse(fault, cost.ripple);
    }
    return cost;
}

}  // namespace fadewright::render
