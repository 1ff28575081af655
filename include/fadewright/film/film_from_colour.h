// How much film lies on a card, from its colour in a picture: the film's look upside down.
//
// A paint of known K and S on a known card runs through one line of colours as its film grows, from the bare
// card to the masstone. The line is tabulated once, as an sRGB picture shows it, and the film of a pixel is
// the one whose colour is least far from it in the picture's own steps (codes of 255), all three channels
// counted. Steps of a picture are about equally noisy everywhere, so this weighs every channel by what it can
// tell. Below bare card the line is carried on straight, so that the noise of bare card reads as much below
// nothing as above it and averages out.
//
// Towards the masstone more film changes less and less. From darkest() on, a film more than e times as thick
// would change the colour by less than kFaintestChange codes: such readings say only that there is a lot.
//
// Symbols    film dry, um; light linear sRGB, as a share of a perfect white in D65
// Source     film/stack.h and film/skin.h, shine left out; sRGB colour/srgb.h
// Holds for  an even film, one paint, no flakes; colours that sRGB cannot hold are cut off at 0 as a picture
//            cuts them. Dots that cover only part of a pixel read as less film than there is
// Accuracy   read() undoes seen() to 0.2 % of the film between one code and darkest()
// Checks     tests/film/film_reading_test.cpp
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/colour/srgb.h"
#include "fadewright/film/stack.h"
#include "fadewright/film/surface.h"
#include "fadewright/paint/mix.h"

#include <array>
#include <vector>

namespace fadewright::film {

inline constexpr double kMinCodeChange = 20;  // codes for an e times thicker film

struct ThicknessReading {
    double film_um = 0;         // below 0: lighter than the bare card
    double residual_codes = 0;  // how far from the line of the paint's colours
    bool saturated = false;     // thicker than darkest()
};

class ThicknessScale {
public:
    // `ground` as light inside the binder meets it.
    ThicknessScale(const paint::MixedPaint& mix, const colour::Reflectance& ground,
                   SaundersonCorrection surface);

    [[nodiscard]] ThicknessReading read(const colour::Rgb& linear) const noexcept;

    [[nodiscard]] colour::Rgb linear_colour(double film_um) const noexcept;  // linear
    [[nodiscard]] double um_per_code(double film_um) const noexcept;
    [[nodiscard]] Micrometres saturation_limit() const noexcept { return Micrometres{saturation_limit_um_}; }
    // How far the line reaches, in codes: small for a paint that hardly shows on this card.
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

    std::vector<Node> nodes_;  // by rising film
    double saturation_limit_um_ = 0;
    double range_codes_ = 0;
};

}  // namespace fadewright::film
