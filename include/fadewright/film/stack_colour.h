// Colour of coats over a ground as a function of their films, with its derivatives.
//
// For searches that need thousands of colours of the same coats in other films. The reflectance changes with
// the film X of a coat by
//
//     dR/dX = S - 2 (K + S) R + S R^2           R the reflectance including this coat
//
// and a change below a coat is passed on by T^2 / (1 - R0 R_g)^2; surface, XYZ and Lab follow by the chain
// rule. Where coats hold flakes the derivative is the finite difference to kFlakeStep_um more film.
//
// Symbols    K, S, R, R0, T, R_g as in film/layer.h; X in micrometres, dry
// Source: [kubelka1931] (the slope), [kubelka1954], [saunderson1942].
// Holds for  what stack.h and flake_reflection.h hold for; films that coalesce (dots are taken as their mean
//            film)
// Accuracy   colours as film/multi_angle.h within 1e-9; derivatives of coats without flakes within 1e-6 of
//            finite differences
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

// Viewing conditions of the stack. `spread_specular`: share of the surface reflection that is diffuse, 1 if
// matt.
struct StackView {
    Colorimeter colorimeter;
    Degrees aspecular{45};
    double spread_specular = 0;
};

class StackColour {
public:
    // A coat whose film is given is fixed; the others take theirs from lab().
    struct Coat {
        paint::MixedPaint mix;
        std::optional<Micrometres> film;
    };
    StackColour(const colour::Reflectance& ground, std::vector<Coat> bottom_up, StackView view);

    [[nodiscard]] std::size_t free_coats() const noexcept {
        return free_coats_;
    }  // coats without a film of their own

    // Films of the free coats, bottom up, micrometres, none negative; each span of size free_coats()
    // (contract).
    [[nodiscard]] colour::Lab lab(std::span<const double> films_um) const;
    // slopes: derivative with respect to each free film, per micrometre.
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
