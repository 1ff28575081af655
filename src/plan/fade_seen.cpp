#include "fade_seen.h"

#include "fadewright/colour/delta_e.h"

#include <cmath>

namespace fadewright::plan {
namespace {

constexpr int kFilms = 96;   // looked at, closer where the film is thin
constexpr int kShares = 64;  // of the table

}  // namespace

Growth seen_growth(const paint::MixedPaint& mix, Micrometres film, const paint::MixedPaint& below,
                   const film::Looker& looker) {
    const colour::Reflectance ground = film::masstone(below);
    std::vector<double> share{0}, seen{0};
    colour::Lab last = looker.lab(ground);
    for (int i = 1; i <= kFilms; ++i) {
        share.push_back(std::pow(static_cast<double>(i) / kFilms, 3));
        const colour::Lab now = looker.lab(film::over(mix, share.back() * film, ground));
        seen.push_back(seen.back() + colour::delta_e_2000(last, now));
        last = now;
    }
    if (seen.back() < kAlike_dE) return Growth(Ramp::even);
    std::vector<double> shares{0};
    std::size_t k = 1;
    for (int j = 1; j < kShares; ++j) {
        const double wished = seen.back() * j / kShares;
        while (seen[k] < wished) ++k;
        const double t = (wished - seen[k - 1]) / (seen[k] - seen[k - 1]);
        shares.push_back(share[k - 1] + t * (share[k] - share[k - 1]));
    }
    shares.push_back(1);
    return Growth(std::move(shares));
}

}  // namespace fadewright::plan
