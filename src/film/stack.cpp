#include "fadewright/film/stack.h"

#include "fadewright/base/contract.h"
#include "fadewright/film/layer.h"
#include "fadewright/kernels/layer_stack.h"

#include <cstddef>

namespace fadewright::film {

using colour::kBandCount;
using colour::Reflectance;
using paint::MixedPaint;

Reflectance reflectance_over(const MixedPaint& mix, Micrometres film, const Reflectance& ground) {
    FW_EXPECTS(film.value >= 0);
    Reflectance R;
    for (std::size_t band = 0; band < kBandCount; ++band)
        R[band] = reflectance_over(layer(mix.K[band], mix.S[band], film.value), ground[band]);
    return R;
}

Reflectance lay_dots(const MixedPaint& mix, Micrometres mean_film, Micrometres splat,
                     const Reflectance& ground) {
    FW_EXPECTS(mean_film.value >= 0);
    FW_EXPECTS(splat.value >= 0);
    Reflectance R = ground;
    for (std::size_t band = 0; band < kBandCount; ++band)
        kernels::lay_dots(std::span(&mean_film.value, 1), splat.value, mix.K[band], mix.S[band],
                          std::span(&R[band], 1));
    return R;
}

Reflectance masstone(const MixedPaint& mix) {
    Reflectance R;
    for (std::size_t band = 0; band < kBandCount; ++band) R[band] = r_infinity(mix.K[band], mix.S[band]);
    return R;
}

Reflectance lay_stack(std::span<const Coat> bottom_up, const Reflectance& ground) {
    Reflectance R = ground;
    for (const Coat& coat : bottom_up) {
        FW_EXPECTS(coat.mix != nullptr);
        R = lay_dots(*coat.mix, coat.film, coat.splat, R);
    }
    return R;
}

Reflectance through_surface(const Reflectance& inside, SaundersonCorrection surface, Specular specular) {
    Reflectance R;
    for (std::size_t band = 0; band < kBandCount; ++band)
        R[band] = external_reflectance(surface, inside[band], specular);
    return R;
}

Reflectance below_surface(const Reflectance& measured, SaundersonCorrection surface, Specular specular) {
    Reflectance R;
    for (std::size_t band = 0; band < kBandCount; ++band)
        R[band] = internal_reflectance(surface, measured[band], specular);
    return R;
}

}  // namespace fadewright::film
