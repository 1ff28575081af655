#include "fadewright/film/colorimeter.h"

namespace fadewright::film {

Colorimeter::Colorimeter(const colour::Illuminant& light, colour::Observer observer, Specular specular)
    : weights_(colour::tristimulus_weights(light, observer)),
      surface_(surface_at_normal({})),
      specular_(specular) {}

colour::Reflectance Colorimeter::through_surface(const colour::Reflectance& inside) const {
    return film::through_surface(inside, surface_, specular_);
}

colour::XYZ Colorimeter::xyz(const colour::Reflectance& inside) const {
    return colour::to_xyz(through_surface(inside), weights_);
}

colour::Lab Colorimeter::lab(const colour::Reflectance& inside) const {
    return colour::to_lab(xyz(inside), weights_.white);
}

colour::Lab Colorimeter::lab_of_measured(const colour::Reflectance& measured) const {
    return colour::to_lab(colour::to_xyz(measured, weights_), weights_.white);
}

colour::Spd Colorimeter::luminosity() const noexcept {
    colour::Spd power;
    for (std::size_t band = 0; band < colour::kBandCount; ++band) power[band] = weights_.w[band][1];
    return power;
}

}  // namespace fadewright::film
