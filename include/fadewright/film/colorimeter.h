// What an eye sees of a reflectance inside the film: the skin, the light, and the observer in one place.
//
// On gloss the eye looks past the shine (specular excluded); on matt the surface's own light is spread over what is
// seen (specular included).
//
// Checks     tests/film/outlook_test.cpp
#pragma once

#include "fadewright/colour/illuminant.h"
#include "fadewright/colour/lab.h"
#include "fadewright/film/stack.h"
#include "fadewright/film/surface.h"

namespace fadewright::film {

class Colorimeter {
public:
    explicit Colorimeter(const colour::Illuminant& light,
                         colour::Observer observer = colour::Observer::two_degree,
                         Specular specular = Specular::excluded);

    [[nodiscard]] colour::Reflectance through_surface(const colour::Reflectance& inside) const;
    [[nodiscard]] colour::XYZ xyz(const colour::Reflectance& inside) const;
    [[nodiscard]] colour::Lab lab(const colour::Reflectance& inside) const;
    [[nodiscard]] colour::Lab lab_of_measured(
        const colour::Reflectance& measured) const;  // through the skin already

    [[nodiscard]] const colour::TristimulusWeights& weights() const noexcept { return weights_; }
    [[nodiscard]] SaundersonCorrection surface() const noexcept { return surface_; }
    [[nodiscard]] Specular specular() const noexcept { return specular_; }
    [[nodiscard]] colour::Spd luminosity() const noexcept;  // light times the eye, for hiding.h

private:
    colour::TristimulusWeights weights_;
    SaundersonCorrection surface_;
    Specular specular_;
};

}  // namespace fadewright::film
