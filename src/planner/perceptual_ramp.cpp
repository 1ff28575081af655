#include "perceptual_ramp.h"

#include "fadewright/colour/delta_e.h"

#include <cmath>

namespace fadewright::planner {
namespace {

constexpr int kFilmSamples = 96;  // denser where the film is thin
constexpr int kTableSize = 64;    // of the table

}  // namespace

RampProfile perceptual_ramp(const paint::MixedPaint& mix, Micrometres film, const paint::MixedPaint& below,
                            const film::Colorimeter& colorimeter) {
    const colour::Reflectance ground = film::masstone(below);
    std::vector<double> share{0}, cumulative{0};
    colour::Lab last = colorimeter.lab(ground);
    for (int i = 1; i <= kFilmSamples; ++i) {
        share.push_back(std::pow(static_cast<double>(i) / kFilmSamples, 3));
        const colour::Lab now = colorimeter.lab(film::reflectance_over(mix, share.back() * film, ground));
        cumulative.push_back(cumulative.back() + colour::delta_e_2000(last, now));
        last = now;
    }
    if (cumulative.back() < colour::kIndistinguishable_dE) return RampProfile(plan::Ramp::linear);
    std::vector<double> shares{0};
    std::size_t k = 1;
    for (int j = 1; j < kTableSize; ++j) {
        const double target = cumulative.back() * j / kTableSize;
        while (cumulative[k] < target) ++k;
        const double t = (target - cumulative[k - 1]) / (cumulative[k] - cumulative[k - 1]);
        shares.push_back(share[k - 1] + t * (share[k] - share[k - 1]));
    }
    shares.push_back(1);
    return RampProfile(std::move(shares));
}

}  // namespace fadewright::planner
