#include "fadewright/film/stack.h"

#include "fadewright/base/contract.h"
#include "fadewright/film/layer.h"
#include "fadewright/kernels/layer_stack.h"

#include <cstddef>

namespace fadewright::film {

using colour::kBandCount;
using colour::Reflectance;
using paint::MixedPaint;

Reflectance over(const MixedPaint& mix, Micrometres film, const Reflectance& ground) {
    FW_EXPECTS(film.value >= 0);
    Reflectance R;
    for (std::size_t band = 0; band < kBandCount; ++band)
        R[band] = over(layer(mix.K[band], mix.S[band], film.value), ground[band]);
    return R;
}

Reflectance fogged(const MixedPaint& mix, Micrometres mean_film, Micrometres splat,
                   const Reflectance& ground) {
    FW_EXPECTS(mean_film.value >= 0);
    FW_EXPECTS(splat.value >= 0);
    Reflectance R = ground;
    for (std::size_t band = 0; band < kBandCount; ++band)
        kernels::lay_fog(std::span(&mean_film.value, 1), splat.value, mix.K[band], mix.S[band],
                         std::span(&R[band], 1));
    return R;
}

Reflectance masstone(const MixedPaint& mix) {
    Reflectance R;
    for (std::size_t band = 0; band < kBandCount; ++band) R[band] = thick(mix.K[band], mix.S[band]);
    return R;
}

Reflectance stacked(std::span<const Coat> bottom_up, const Reflectance& ground) {
    Reflectance R = ground;
    for (const Coat& coat : bottom_up) {
        FW_EXPECTS(coat.mix != nullptr);
        R = fogged(*coat.mix, coat.film, coat.splat, R);
    }
    return R;
}

Reflectance seen(const Reflectance& inside, Skin skin, Specular specular) {
    Reflectance R;
    for (std::size_t band = 0; band < kBandCount; ++band) R[band] = measured(skin, inside[band], specular);
    return R;
}

Reflectance inside(const Reflectance& seen, Skin skin, Specular specular) {
    Reflectance R;
    for (std::size_t band = 0; band < kBandCount; ++band) R[band] = internal(skin, seen[band], specular);
    return R;
}

}  // namespace fadewright::film
