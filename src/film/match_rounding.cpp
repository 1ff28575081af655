#include "match_rounding.h"

#include "fadewright/film/match.h"

#include <algorithm>
#include <cmath>

namespace fadewright::film {
namespace {

struct Rounded {
    std::vector<int> counts;
    double miss = 0;
};

bool is_empty(const std::vector<int>& counts) {
    return std::all_of(counts.begin(), counts.end(), [](int n) { return n == 0; });
}

// Takes the best step of one unit in one paint, again and again, while it helps.
Rounded settled(std::vector<int> counts, int most, const MissOf& miss) {
    Rounded best{counts, miss(counts)};
    for (bool moved = true; moved;) {
        moved = false;
        const std::vector<int> here = best.counts;
        for (std::size_t i = 0; i < here.size(); ++i)
            for (const int step : {-1, 1}) {
                counts = here;
                counts[i] += step;
                if (counts[i] < 0 || counts[i] > most || is_empty(counts)) continue;
                const double reached = miss(counts);
                if (reached >= best.miss) continue;
                best = {counts, reached};
                moved = true;
            }
    }
    return best;
}

std::vector<int> nearest(std::span<const double> shares, double units) {
    std::vector<int> counts;
    for (const double share : shares) counts.push_back(static_cast<int>(std::lround(share * units)));
    if (is_empty(counts))
        counts[static_cast<std::size_t>(std::max_element(shares.begin(), shares.end()) - shares.begin())] = 1;
    return counts;
}

}  // namespace

std::vector<int> whole_parts(std::span<const double> shares, int most, const MissOf& miss) {
    const double top = *std::max_element(shares.begin(), shares.end());
    std::vector<int> best;
    double least = 0;
    for (int largest = 1; largest <= most; ++largest) {
        const Rounded tried = settled(nearest(shares, largest / top), most, miss);
        const double cost =
            tried.miss + kPartCost * *std::max_element(tried.counts.begin(), tried.counts.end());
        if (!best.empty() && cost >= least) continue;
        best = tried.counts;
        least = cost;
    }
    return best;
}

std::vector<int> whole_units(std::span<const double> shares, double units, const MissOf& miss) {
    const std::vector<int> start = nearest(shares, units);
    const int most = *std::max_element(start.begin(), start.end()) + 1;
    return settled(start, most, miss).counts;
}

}  // namespace fadewright::film
