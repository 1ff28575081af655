#include "fadewright/film/multi_angle.h"

#include "fadewright/base/contract.h"
#include "fadewright/colour/lab.h"

#include <algorithm>
#include <vector>

namespace fadewright::film {
namespace {

// Coats from the lowest with flakes upwards, prepared for flake reflection; coats below it attenuate none.
class FlakeReflectionStack {
public:
    explicit FlakeReflectionStack(std::span<const Coat> bottom_up) {
        const auto lowest = std::find_if(bottom_up.begin(), bottom_up.end(),
                                         [](const Coat& coat) { return has_flakes(*coat.mix); });
        coats_ = bottom_up.subspan(static_cast<std::size_t>(lowest - bottom_up.begin()));
        for (const Coat& coat : coats_)
            paints_.push_back(flake_reflection_paint(coat.mix->K, coat.mix->S, coat.mix->flakes));
    }

    [[nodiscard]] FlakeReflection sum(const FlakeReflectionScene& scene) const {
        FlakeReflection sum;
        for (std::size_t i = coats_.size(); i-- > 0;)
            sum.add(flake_reflection_coat(paints_[i], scene), coats_[i].film);
        return sum;
    }

private:
    std::span<const Coat> coats_;
    std::vector<FlakeReflectionPaint> paints_;
};

colour::Reflectance reflectance_of_stack(const FlakeReflectionStack& stack, const colour::Reflectance& inside,
                                         const FlakeReflectionScene& scene, SaundersonCorrection surface,
                                         Specular specular) {
    const FlakeReflection sum = stack.sum(scene);
    colour::Reflectance measured;
    for (std::size_t band = 0; band < colour::kBandCount; ++band)
        measured[band] = external_reflectance_with_flakes(surface, sum, band, inside[band], specular);
    return measured;
}

}  // namespace

bool has_flakes(const paint::MixedPaint& mix) noexcept {
    return std::any_of(mix.flakes.begin(), mix.flakes.end(),
                       [](const paint::EffectPigment& flakes) { return flakes.platelet_hits_per_um > 0; });
}

FlakeReflectionScene aspecular_scene(Degrees aspecular) {
    return flake_reflection_scene(light_direction(kIllumination45),
                                  view_direction(aspecular_view(kIllumination45, aspecular)));
}

double external_reflectance_with_flakes(SaundersonCorrection surface, const FlakeReflection& sum,
                                        std::size_t band, double R, Specular specular) noexcept {
    if (!sum.has_flakes()) return external_reflectance(surface, R, specular);
    const double diffuse_and_flakes =
        (1 - surface.k1) * (1 - surface.k2) / (1 - surface.k2 * R) * sum.emergent(band, R) +
        sum.reflectance_factor()[band];
    return specular == Specular::included ? surface.k1 + diffuse_and_flakes : diffuse_and_flakes;
}

colour::Reflectance multi_angle_reflectance(std::span<const Coat> bottom_up,
                                            const colour::Reflectance& ground,
                                            const FlakeReflectionScene& scene, SaundersonCorrection surface,
                                            Specular specular) {
    return reflectance_of_stack(FlakeReflectionStack(bottom_up), lay_stack(bottom_up, ground), scene, surface,
                                specular);
}

const colour::Lab& MultiAngleColour::at(Degrees aspecular) const {
    const auto found = std::find(kAspecular.begin(), kAspecular.end(), aspecular);
    FW_EXPECTS(found != kAspecular.end());
    return labs[static_cast<std::size_t>(found - kAspecular.begin())];
}

MultiAngleColour multi_angle_colour(std::span<const Coat> bottom_up, const colour::Reflectance& ground,
                                    const Colorimeter& colorimeter) {
    const FlakeReflectionStack stack(bottom_up);
    const colour::Reflectance inside = lay_stack(bottom_up, ground);
    MultiAngleColour colour;
    for (std::size_t i = 0; i < kAspecular.size(); ++i)
        colour.labs[i] = colorimeter.lab_of_measured(reflectance_of_stack(
            stack, inside, aspecular_scene(kAspecular[i]), colorimeter.surface(), colorimeter.specular()));
    colour.flop =
        colour::flop_index(colour.at(Degrees{15}).L, colour.at(Degrees{45}).L, colour.at(Degrees{110}).L);
    return colour;
}

}  // namespace fadewright::film
