// The colour of coats over a ground as a function of their films, and how it changes with each of them.
//
// For searches that ask for thousands of colours of the same coats in other films. More of a film changes what
// lies below into
//
//     dR/dX = S - 2 (K + S) R + S R^2           R the reflectance with it on
//
// and what a coat sees below it passes on by T^2 / (1 - R0 R_g)^2; the rest is the skin, XYZ and Lab, each with its
// own slope. Where coats hold flakes the slope is the difference to kFlakeStep more film.
//
// Symbols    K, S, R, R0, T, R_g as in film/layer.h; X in micrometres, dry
// Source     Kubelka & Munk 1931, Z. techn. Phys. 12:593-601 (the slope; from memory); film/stack.h, film/glint.h
// Holds for  what stack.h and glint.h hold for; films that flow together (dots are taken as their mean film)
// Accuracy   colours as film/angled.h within 1e-9; slopes of coats without flakes within 1e-6 of differences
// Checks     tests/film/stack_colour_test.cpp
#pragma once

#include "fadewright/colour/lab.h"
#include "fadewright/film/colorimeter.h"
#include "fadewright/film/flake_reflection.h"
#include "fadewright/film/layer.h"
#include "fadewright/paint/mix.h"

#include <array>
#include <optional>
#include <span>
#include <vector>

namespace fadewright::film {

// How the stack is looked at. `spread_shine`: share of the skin's own reflection that lies over everything, 1 if
// matt.
struct StackView {
    Colorimeter colorimeter;
    Degrees aspecular{45};
    double spread_specular = 0;
};

class StackColour {
public:
    // A coat whose film is given stays as it is; the others take theirs from lab().
    struct Coat {
        paint::MixedPaint mix;
        std::optional<Micrometres> film;
    };
    StackColour(const colour::Reflectance& ground, std::vector<Coat> bottom_up, StackView view);

    [[nodiscard]] std::size_t free_coats() const noexcept {
        return free_coats_;
    }  // coats without a film of their own

    // Films of the open coats from the bottom up, micrometres, none negative; as many of each as open() (contract).
    [[nodiscard]] colour::Lab lab(std::span<const double> films_um) const;
    // slopes: per micrometre of each open film.
    [[nodiscard]] colour::Lab lab(std::span<const double> films_um, std::span<colour::Lab> slopes) const;

    static constexpr double kFlakeStep_um = 1e-3;

private:
    struct PreparedCoat {
        Coat coat;
        std::array<Layer, colour::kBandCount> layers{};  // of a given film
    };
    [[nodiscard]] Layer layer_of(const PreparedCoat& prepared, std::size_t band,
                                 double film_um) const noexcept;
    [[nodiscard]] FlakeReflection flake_reflection(std::span<const double> films_um) const;
    [[nodiscard]] colour::Lab lab_without_flakes(std::span<const double> films_um,
                                                 std::span<colour::Lab> slopes) const;
    [[nodiscard]] colour::Lab lab_with_flakes(std::span<const double> films_um) const;

    colour::Reflectance ground_;
    std::vector<PreparedCoat> coats_;
    std::size_t free_coats_ = 0;
    StackView view_;
    std::size_t first_flake_coat_ = 0;              // coats_.size() if none has some
    std::vector<FlakeReflectionCoat> flake_coats_;  // from there up
};

}  // namespace fadewright::film
