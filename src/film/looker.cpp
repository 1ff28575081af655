#include "fadewright/film/looker.h"

namespace fadewright::film {

Looker::Looker(const colour::Light& light, colour::Observer observer, Specular specular)
    : weights_(colour::weights(light, observer)), skin_(skin_at_normal({})), specular_(specular) {}

colour::Reflectance Looker::seen(const colour::Reflectance& inside) const {
    return film::seen(inside, skin_, specular_);
}

colour::XYZ Looker::xyz(const colour::Reflectance& inside) const {
    return colour::to_xyz(seen(inside), weights_);
}

colour::Lab Looker::lab(const colour::Reflectance& inside) const {
    return colour::to_lab(xyz(inside), weights_.white);
}

colour::Lab Looker::lab_outside(const colour::Reflectance& seen) const {
    return colour::to_lab(colour::to_xyz(seen, weights_), weights_.white);
}

colour::Power Looker::luminosity() const noexcept {
    colour::Power power;
    for (std::size_t band = 0; band < colour::kBandCount; ++band) power[band] = weights_.w[band][1];
    return power;
}

}  // namespace fadewright::film
