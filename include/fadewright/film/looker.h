// What an eye sees of a reflectance inside the film: the skin, the light, and the observer in one place.
//
// On gloss the eye looks past the shine (specular excluded); on matt the surface's own light is spread over what is
// seen (specular included).
//
// Checks     tests/film/outlook_test.cpp
#pragma once

#include "fadewright/colour/lab.h"
#include "fadewright/colour/light.h"
#include "fadewright/film/skin.h"
#include "fadewright/film/stack.h"

namespace fadewright::film {

class Looker {
public:
    explicit Looker(const colour::Light& light, colour::Observer observer = colour::Observer::two_degree,
                    Specular specular = Specular::excluded);

    [[nodiscard]] colour::Reflectance seen(const colour::Reflectance& inside) const;
    [[nodiscard]] colour::XYZ xyz(const colour::Reflectance& inside) const;
    [[nodiscard]] colour::Lab lab(const colour::Reflectance& inside) const;
    [[nodiscard]] colour::Lab lab_outside(const colour::Reflectance& seen) const;  // through the skin already

    [[nodiscard]] const colour::Weights& weights() const noexcept { return weights_; }
    [[nodiscard]] Skin skin() const noexcept { return skin_; }
    [[nodiscard]] Specular specular() const noexcept { return specular_; }
    [[nodiscard]] colour::Power luminosity() const noexcept;  // light times the eye, for hiding.h

private:
    colour::Weights weights_;
    Skin skin_;
    Specular specular_;
};

}  // namespace fadewright::film
