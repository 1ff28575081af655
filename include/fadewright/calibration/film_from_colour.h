// Film thickness of a spray-out card from its colour in a picture: the inverse of the colour of a film.
//
// A paint of known K and S on a known card runs through one line of colours as its film grows, from the bare
// card to the masstone. The line is tabulated once as sRGB; the film of a pixel is that of the nearest point
// of the line, by distance in codes (0 to 255) over all three channels. Codes are about equally noisy
// everywhere, so each channel counts by its information. Below the bare card the line continues straight, so
// that the noise of the bare card gives negative films as often as positive ones and averages out.
//
// Towards the masstone the colour changes less and less. From saturation_limit() on, a film e times as thick
// would change it by less than kMinCodeChange codes: such readings are marked as saturated.
//
// Symbols    film dry, um; linear sRGB relative to a perfect white in D65
// Source: [kubelka1948], [saunderson1942] (specular excluded), [iec61966] (sRGB).
// Holds for  an even film, one paint, no flakes; colours outside sRGB are clamped at 0 as in a picture. Dots
//            that cover a part of each pixel read as less film than there is
// Accuracy   read() inverts linear_colour() to 0.2 % of the film between one code and saturation_limit()
// Checks     tests/calibration/film_from_colour_test.cpp
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/colour/srgb.h"
#include "fadewright/film/stack.h"
#include "fadewright/film/surface.h"
#include "fadewright/paint/mix.h"

#include <array>
#include <vector>

namespace fadewright::calibration {

inline constexpr double kMinCodeChange = 20;  // codes, for a film e times as thick

struct ThicknessReading {
    double film_um = 0;         // below 0: lighter than the bare card
    double residual_codes = 0;  // distance from the paint's line of colours
    bool saturated = false;     // beyond saturation_limit()
};

class ThicknessScale {
public:
    // `ground`: reflectance inside the binder.
    ThicknessScale(const paint::MixedPaint& mix, const colour::Reflectance& ground,
                   film::SaundersonCorrection surface);

    [[nodiscard]] ThicknessReading read(const colour::Rgb& linear) const noexcept;

    [[nodiscard]] colour::Rgb linear_colour(double film_um) const noexcept;
    [[nodiscard]] double um_per_code(double film_um) const noexcept;
    [[nodiscard]] Micrometres saturation_limit() const noexcept { return Micrometres{saturation_limit_um_}; }
    // Length of the line in codes: small for a paint that hardly shows on this card.
    [[nodiscard]] double range_codes() const noexcept { return range_codes_; }

private:
    using Code = std::array<double, 3>;
    struct Node {
        double film_um = 0;
        colour::Rgb linear;
        Code code{};
    };

    [[nodiscard]] static Node make_node(double film_um, const colour::Rgb& linear) noexcept;
    [[nodiscard]] std::size_t node_below(double film_um) const noexcept;  // node at or below, not the last

    std::vector<Node> nodes_;  // by increasing film
    double saturation_limit_um_ = 0;
    double range_codes_ = 0;
};

}  // namespace fadewright::calibration
