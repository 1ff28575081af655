#include "match_search.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

namespace fadewright::film {
namespace {

constexpr std::size_t kMaxSetsPerSize = 12;  // sets of one size that go on to the last round
constexpr int kRoughSteps = 10;              // of a fit while sets are being sorted
constexpr std::size_t kMaxTriples = 8'000;   // parents x added paints: most pairs of thirty paints
constexpr std::size_t kMaxLargerSets = 3'000;
constexpr double kNewcomerStrength = 0.1;  // initial share of an added paint in the mix's strength
constexpr double kDoseCost = 0.02;         // of a recipe with a ten times wider range of parts, in CIEDE2000

using Members = std::array<std::size_t, kMaxPaintsInMix>;

// The paints of a set, lowest first; empty places last.
Members sorted_members(const Fit& fit) {
    Members sorted;
    sorted.fill(std::numeric_limits<std::size_t>::max());
    for (std::size_t i = 0; i < fit.count; ++i) sorted[i] = fit.paint_index[i];
    std::sort(sorted.begin(), sorted.end());
    return sorted;
}

bool contains_paint(const Fit& fit, std::size_t paint) {
    const auto end = fit.paint_index.begin() + static_cast<std::ptrdiff_t>(fit.count);
    return std::find(fit.paint_index.begin(), end, paint) != end;
}

// Colour difference, with a bias to recipes whose parts are easy to measure.
double rough_cost(const Fit& fit) {
    const auto end = fit.log_weight.begin() + static_cast<std::ptrdiff_t>(fit.count);
    const auto [min_weight, max_weight] = std::minmax_element(fit.log_weight.begin(), end);
    return fit.error + kDoseCost * (*max_weight - *min_weight) / std::log(10.0);
}

void sort_by_cost(std::vector<Fit>& fits) {
    std::sort(fits.begin(), fits.end(), [](const Fit& a, const Fit& b) {
        const double cost_a = rough_cost(a), cost_b = rough_cost(b);
        return cost_a != cost_b ? cost_a < cost_b : sorted_members(a) < sorted_members(b);
    });
}

Fit add_paint(const MixEvaluator& evaluator, const Fit& parent, std::size_t newcomer) {
    double strength = 0;
    for (std::size_t i = 0; i < parent.count; ++i)
        strength += std::exp(parent.log_weight[i]) * evaluator.tinting_strength(parent.paint_index[i]);
    Fit child = parent;
    child.paint_index[child.count] = newcomer;
    child.log_weight[child.count] =
        std::log(kNewcomerStrength * (strength + 1e-9) / (evaluator.tinting_strength(newcomer) + 1e-9));
    ++child.count;
    return child;
}

// Every set made of one of the first `parents` sets and one more paint, fitted once.
std::vector<Fit> grow_sets(const Fitter& fitter, const std::vector<Fit>& sets, std::size_t parents) {
    std::vector<Fit> larger;
    std::set<Members> visited;
    for (std::size_t parent = 0; parent < std::min(parents, sets.size()); ++parent)
        for (std::size_t paint = 0; paint < fitter.evaluator().size(); ++paint) {
            if (contains_paint(sets[parent], paint)) continue;
            const Fit start = add_paint(fitter.evaluator(), sets[parent], paint);
            if (visited.insert(sorted_members(start)).second)
                larger.push_back(fitter.refine(start, kRoughSteps));
        }
    sort_by_cost(larger);
    return larger;
}

}  // namespace

std::vector<Fit> candidate_fits(const Fitter& fitter, std::size_t max_paints) {
    std::vector<Fit> sets;
    for (std::size_t paint = 0; paint < fitter.evaluator().size(); ++paint) {
        Fit single;
        single.count = 1;
        single.paint_index[0] = paint;
        sets.push_back(fitter.refine(single, 0));
    }
    sort_by_cost(sets);
    std::vector<Fit> chosen;
    for (std::size_t count = 1; !sets.empty(); ++count) {
        const std::size_t chosen_count = std::min(sets.size(), kMaxSetsPerSize);
        chosen.insert(chosen.end(), sets.begin(), sets.begin() + static_cast<std::ptrdiff_t>(chosen_count));
        if (count >= max_paints) break;
        const std::size_t visited = count <= 2 ? kMaxTriples : kMaxLargerSets;
        sets = grow_sets(fitter, sets, std::max<std::size_t>(1, visited / fitter.evaluator().size()));
    }
    return chosen;
}

}  // namespace fadewright::film
