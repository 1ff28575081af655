// Appearance of a film with flakes: their number, evenness, and colour at the viewing angles over the grounds
// of a chart and over the job's own.
//
// Source: own derivation; the limits of evenness are starting values, uncalibrated.
// Holds for  what multi_angle.h and sparkle.h hold for
// Checks     tests/formulation/tint_ladder_test.cpp, tests/report/phrases_test.cpp
#pragma once

#include "fadewright/film/multi_angle.h"
#include "fadewright/film/sparkle.h"
#include "fadewright/formulation/drawdown.h"

#include <span>
#include <vector>

namespace fadewright::formulation {

struct FlakeAppearance {
    double per_cm2 = 0;
    double layers = 0;     // flakes on a line straight through the film, on average
    double gap_share = 0;  // of the area, without any
    // Of the kind with the best coverage; 1 where mottle begins to show (film/sparkle.h).
    double mottle_index = 0;
    film::MultiAngleColour over_black, over_grey, over_white, over_ground;
};

[[nodiscard]] FlakeAppearance flake_appearance(const paint::MixedPaint& mix, Micrometres film,
                                               const colour::Reflectance& ground,
                                               const film::Colorimeter& colorimeter);

// single flakes: not a film, 80 % gaps.
enum class FlakeEvenness { no_flakes, even, barely_even, patchy, single_flakes };
[[nodiscard]] FlakeEvenness rate_evenness(const FlakeAppearance& appearance) noexcept;

// A mix coat by coat.
struct FlakeDrawdown {
    std::vector<FlakeAppearance> coats;                      // as many as the drawdown has
    std::vector<film::MultiAngleColour> over_black_by_coat;  // kMaxChromaPeakCoats, for the chroma peak
};
inline constexpr int kMaxChromaPeakCoats = 24;
[[nodiscard]] FlakeDrawdown flake_drawdown(const paint::MixedPaint& mix, Micrometres coat,
                                           const DrawdownPrediction& drawdown,
                                           const colour::Reflectance& ground,
                                           const film::Colorimeter& colorimeter);

// Factor by which colours must be darkened so that all of them fit the screen; at most 1.
[[nodiscard]] double exposure_to_fit(std::span<const colour::Lab> labs);
[[nodiscard]] colour::Lab apply_exposure(const colour::Lab& lab, double exposure);

}  // namespace fadewright::formulation
