#include "fadewright/formulation/flake_appearance.h"

#include "fadewright/colour/srgb.h"
#include "fadewright/film/flake_layer.h"

#include <algorithm>
#include <cmath>

namespace fadewright::formulation {
namespace {

constexpr double kBarelyEven = 0.5;    // of the limit at which mottle begins to show
constexpr double kSingleFlakes = 1.6;  // times that limit

}  // namespace

FlakeAppearance flake_appearance(const paint::MixedPaint& mix, Micrometres film,
                                 const colour::Reflectance& ground, const film::Colorimeter& colorimeter) {
    const film::Coat coat{&mix, film, {}};
    const auto over = [&](const colour::Reflectance& backing) {
        return film::multi_angle_colour({&coat, 1}, backing, colorimeter);
    };
    FlakeAppearance appearance;
    appearance.over_black = over(colour::Reflectance::constant(kBlackChart));
    appearance.over_grey = over(colour::Reflectance::constant(kGreyChart));
    appearance.over_white = over(colour::Reflectance::constant(kWhiteChart));
    appearance.over_ground = over(ground);
    appearance.mottle_index = film::patchiness_index(mix.flakes, film).value_or(0);
    for (const paint::EffectPigment& flakes : mix.flakes) {
        if (flakes.platelet_hits_per_um <= 0) continue;
        appearance.per_cm2 += film::flakes_per_cm2(flakes, film);
        appearance.layers += flakes.platelet_hits_per_um * film.value;
    }
    appearance.gap_share = std::exp(-appearance.layers);
    return appearance;
}

FlakeEvenness rate_evenness(const FlakeAppearance& appearance) noexcept {
    if (appearance.per_cm2 <= 0) return FlakeEvenness::no_flakes;
    if (appearance.mottle_index < kBarelyEven) return FlakeEvenness::even;
    if (appearance.mottle_index < 1) return FlakeEvenness::barely_even;
    return appearance.mottle_index < kSingleFlakes ? FlakeEvenness::patchy : FlakeEvenness::single_flakes;
}

FlakeDrawdown flake_drawdown(const paint::MixedPaint& mix, Micrometres coat,
                             const DrawdownPrediction& drawdown, const colour::Reflectance& ground,
                             const film::Colorimeter& colorimeter) {
    FlakeDrawdown out;
    for (const DrawdownCoat& row : drawdown.coats)
        out.coats.push_back(flake_appearance(mix, row.film, ground, colorimeter));
    const auto black = colour::Reflectance::constant(kBlackChart);
    for (int n = 1; n <= kMaxChromaPeakCoats; ++n) {
        const film::Coat coats{&mix, static_cast<double>(n) * coat, {}};
        out.over_black_by_coat.push_back(film::multi_angle_colour({&coats, 1}, black, colorimeter));
    }
    return out;
}

double exposure_to_fit(std::span<const colour::Lab> labs) {
    double brightest = 1;
    for (const colour::Lab& lab : labs) {
        const colour::Rgb rgb =
            colour::to_linear_srgb(colour::to_xyz(lab, colour::d65_white()), colour::d65_white());
        brightest = std::max({brightest, rgb.r, rgb.g, rgb.b});
    }
    return 1 / brightest;
}

colour::Lab apply_exposure(const colour::Lab& lab, double exposure) {
    if (exposure == 1) return lab;
    const colour::XYZ xyz = colour::to_xyz(lab, colour::d65_white());
    return colour::to_lab({exposure * xyz.X, exposure * xyz.Y, exposure * xyz.Z}, colour::d65_white());
}

}  // namespace fadewright::formulation
