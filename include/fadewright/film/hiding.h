// Hiding power: contrast ratio, film to hide, and K and S from a hiding chart.
//
// The contrast ratio compares a film over black with the same film over white: at 1 the ground does not show.
// 0.98 is by convention full hiding; painters see a ground through more film than that.
//
//     CR = R_k / R_w          R_k over the black half, R_w over the white half
//
// The inverse: both halves of a chart carry the same film, so with B_k and B_w the bare halves
//
//     R0 = (B_w R_k - B_k R_w) / (B_w - B_k - B_k B_w (R_w - R_k))
//     T^2 = (R_w - R0)(1 - R0 B_w) / B_w
//     cosh y = (1 + T^2 - R0^2) / 2T,   S X = y R0 / (T sinh y),   K (K + 2S) = (y / X)^2.
//
// All reflectances are inside the film (film/surface.h), those of the bare halves too, as if wetted by
// binder, because the paint is in optical contact with them.
//
// Source: [kubelka1948] (the chart is the same inversion, solved for R0 and T, which stays exact for S = 0
//            and for K = 0); [iso6504-1], [astmD2805] (grounds and the ratio 0.98).
// Holds for  one band at a time; film_to_hide of a mix weights the bands by luminous efficiency
// Accuracy   K X and S X return to 1e-9 up to contrast ratio 0.97; read a chart between 0.5 and 0.95,
//            where an error of 0.001 in a reading changes S by less than one per cent
// Checks     tests/film/hiding_test.cpp, tests/published/hiding_sx.csv
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/colour/spectrum.h"
#include "fadewright/film/layer.h"
#include "fadewright/film/surface.h"
#include "fadewright/paint/mix.h"

#include <optional>

namespace fadewright::film {

inline constexpr double kFullHiding = 0.98;  // contrast ratio; convention of hiding tests
inline constexpr double kMaxFilm_um = 1e4;   // no finish is thicker; above it, a paint never hides

// The two halves of a hiding chart, inside the binder.
struct HidingChart {
    double black = 0;
    double white = 0.80;
};

[[nodiscard]] double contrast_ratio(Layer coat, HidingChart chart) noexcept;

// S X at which a paint of masstone R_inf reaches the ratio; none if it never does. The bare chart must not
// reach it already.
[[nodiscard]] std::optional<double> scattering_power_to_hide(double R_inf, double ratio,
                                                             HidingChart chart) noexcept;

// Thinnest dry film that reaches the ratio.
[[nodiscard]] std::optional<Micrometres> film_to_hide(PerMicrometre K, PerMicrometre S, double ratio,
                                                      HidingChart chart) noexcept;

// The same for a mix as viewed with specular excluded: luminous means of the reflectances outside the
// surface. `luminosity` is the illuminant times the luminous efficiency in each band, in any unit.
[[nodiscard]] double luminous_mean(const colour::Reflectance& R, const colour::Spd& luminosity) noexcept;
[[nodiscard]] double contrast_ratio(const paint::MixedPaint& mix, Micrometres film, HidingChart chart,
                                    SaundersonCorrection surface, const colour::Spd& luminosity);
[[nodiscard]] std::optional<Micrometres> film_to_hide(const paint::MixedPaint& mix, double ratio,
                                                      HidingChart chart, SaundersonCorrection surface,
                                                      const colour::Spd& luminosity);

struct AbsorptionAndScattering {
    PerMicrometre K;
    PerMicrometre S;
};

// None if no film gives these readings: over_white below over_black, more than its reflectances allow, or
// hiding so well that the halves do not differ.
[[nodiscard]] std::optional<AbsorptionAndScattering> ks_from_chart(double over_black, double over_white,
                                                                   HidingChart bare,
                                                                   Micrometres film) noexcept;

}  // namespace fadewright::film
