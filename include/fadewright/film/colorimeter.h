// Colorimeter: reflectance below the surface -> XYZ or Lab for an illuminant, an observer and a specular
// geometry.
//
// Gloss is viewed off the highlight (specular excluded). On a matt finish the specular reflection is spread
// over all directions and belongs to the colour (specular included).
//
// Checks     tests/formulation/drawdown_test.cpp
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
        const colour::Reflectance& measured) const;  // as read outside, surface included

    [[nodiscard]] const colour::TristimulusWeights& weights() const noexcept { return weights_; }
    [[nodiscard]] SaundersonCorrection surface() const noexcept { return surface_; }
    [[nodiscard]] Specular specular() const noexcept { return specular_; }
    [[nodiscard]] colour::Spd luminosity() const noexcept;  // illuminant x luminous efficiency (hiding.h)

private:
    colour::TristimulusWeights weights_;
    SaundersonCorrection surface_;
    Specular specular_;
};

}  // namespace fadewright::film
