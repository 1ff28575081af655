#include "match_search.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

namespace fadewright::film {
namespace {

constexpr std::size_t kKeptOfEach = 12;       // sets of one size that go on to the last round
constexpr int kRoughSteps = 10;               // of a fit while sets are being sorted
constexpr std::size_t kTriplesTried = 8'000;  // parent times newcomer: most pairs of a shelf of thirty
constexpr std::size_t kLargerTried = 3'000;
constexpr double kNewcomer = 0.1;   // how much of a mix's strength a newcomer starts with
constexpr double kDoseCost = 0.02;  // of a recipe whose parts differ ten times as much, in CIEDE2000

using Members = std::array<std::size_t, kMostInPot>;

// The paints of a set, lowest first; empty places last.
Members members(const Fit& fit) {
    Members sorted;
    sorted.fill(std::numeric_limits<std::size_t>::max());
    for (std::size_t i = 0; i < fit.count; ++i) sorted[i] = fit.who[i];
    std::sort(sorted.begin(), sorted.end());
    return sorted;
}

bool has(const Fit& fit, std::size_t which) {
    const auto end = fit.who.begin() + static_cast<std::ptrdiff_t>(fit.count);
    return std::find(fit.who.begin(), end, which) != end;
}

// Nearness, and a bias to recipes whose parts are easy to measure.
double rough_cost(const Fit& fit) {
    const auto end = fit.log_weight.begin() + static_cast<std::ptrdiff_t>(fit.count);
    const auto [least, most] = std::minmax_element(fit.log_weight.begin(), end);
    return fit.miss + kDoseCost * (*most - *least) / std::log(10.0);
}

void sort_by_cost(std::vector<Fit>& fits) {
    std::sort(fits.begin(), fits.end(), [](const Fit& a, const Fit& b) {
        const double cost_a = rough_cost(a), cost_b = rough_cost(b);
        return cost_a != cost_b ? cost_a < cost_b : members(a) < members(b);
    });
}

Fit with_newcomer(const Pot& pot, const Fit& parent, std::size_t newcomer) {
    double strength = 0;
    for (std::size_t i = 0; i < parent.count; ++i)
        strength += std::exp(parent.log_weight[i]) * pot.strength(parent.who[i]);
    Fit child = parent;
    child.who[child.count] = newcomer;
    child.log_weight[child.count] = std::log(kNewcomer * (strength + 1e-9) / (pot.strength(newcomer) + 1e-9));
    ++child.count;
    return child;
}

// Every set made of one of the first `parents` sets and one more paint, fitted once.
std::vector<Fit> grown(const Fitter& fitter, const std::vector<Fit>& sets, std::size_t parents) {
    std::vector<Fit> larger;
    std::set<Members> tried;
    for (std::size_t parent = 0; parent < std::min(parents, sets.size()); ++parent)
        for (std::size_t which = 0; which < fitter.pot().size(); ++which) {
            if (has(sets[parent], which)) continue;
            const Fit start = with_newcomer(fitter.pot(), sets[parent], which);
            if (tried.insert(members(start)).second) larger.push_back(fitter.fitted(start, kRoughSteps));
        }
    sort_by_cost(larger);
    return larger;
}

}  // namespace

std::vector<Fit> promising_fits(const Fitter& fitter, std::size_t most_paints) {
    std::vector<Fit> sets;
    for (std::size_t which = 0; which < fitter.pot().size(); ++which) {
        Fit single;
        single.count = 1;
        single.who[0] = which;
        sets.push_back(fitter.fitted(single, 0));
    }
    sort_by_cost(sets);
    std::vector<Fit> kept;
    for (std::size_t count = 1; !sets.empty(); ++count) {
        const std::size_t some = std::min(sets.size(), kKeptOfEach);
        kept.insert(kept.end(), sets.begin(), sets.begin() + static_cast<std::ptrdiff_t>(some));
        if (count >= most_paints) break;
        const std::size_t tried = count <= 2 ? kTriplesTried : kLargerTried;
        sets = grown(fitter, sets, std::max<std::size_t>(1, tried / fitter.pot().size()));
    }
    return kept;
}

}  // namespace fadewright::film
