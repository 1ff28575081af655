#include "fadewright/film/angled.h"

#include "fadewright/base/contract.h"
#include "fadewright/colour/flop.h"

#include <algorithm>
#include <vector>

namespace fadewright::film {
namespace {

// Coats up from the lowest that holds flakes, made ready for glint; coats below it cannot dim any.
class GlintStack {
public:
    explicit GlintStack(std::span<const Coat> bottom_up) {
        const auto lowest = std::find_if(bottom_up.begin(), bottom_up.end(),
                                         [](const Coat& coat) { return has_flakes(*coat.mix); });
        coats_ = bottom_up.subspan(static_cast<std::size_t>(lowest - bottom_up.begin()));
        for (const Coat& coat : coats_)
            paints_.push_back(glint_paint(coat.mix->K, coat.mix->S, coat.mix->flakes));
    }

    [[nodiscard]] GlintSum sum(const GlintScene& scene) const {
        GlintSum sum;
        for (std::size_t i = coats_.size(); i-- > 0;) sum.add(glint_coat(paints_[i], scene), coats_[i].film);
        return sum;
    }

private:
    std::span<const Coat> coats_;
    std::vector<GlintPaint> paints_;
};

colour::Reflectance seen_by(const GlintStack& stack, const colour::Reflectance& inside,
                            const GlintScene& scene, Skin skin, Specular specular) {
    const GlintSum sum = stack.sum(scene);
    colour::Reflectance seen;
    for (std::size_t band = 0; band < colour::kBandCount; ++band)
        seen[band] = seen_with_glint(skin, sum, band, inside[band], specular);
    return seen;
}

}  // namespace

bool has_flakes(const paint::MixedPaint& mix) noexcept {
    return std::any_of(mix.flakes.begin(), mix.flakes.end(),
                       [](const paint::Flakes& flakes) { return flakes.crossings_per_um > 0; });
}

GlintScene aspecular_scene(Degrees aspecular) {
    return glint_scene(illuminated_from(kLit), viewed_from(aspecular_view(kLit, aspecular)));
}

double seen_with_glint(Skin skin, const GlintSum& sum, std::size_t band, double R,
                       Specular specular) noexcept {
    if (!sum.has_glint()) return measured(skin, R, specular);
    const double looked_past =
        (1 - skin.k1) * (1 - skin.k2) / (1 - skin.k2 * R) * sum.risen(band, R) + sum.glint()[band];
    return specular == Specular::included ? skin.k1 + looked_past : looked_past;
}

colour::Reflectance seen_at(std::span<const Coat> bottom_up, const colour::Reflectance& ground,
                            const GlintScene& scene, Skin skin, Specular specular) {
    return seen_by(GlintStack(bottom_up), stacked(bottom_up, ground), scene, skin, specular);
}

const colour::Lab& AngledLook::at(Degrees aspecular) const {
    const auto found = std::find(kAspecular.begin(), kAspecular.end(), aspecular);
    FW_EXPECTS(found != kAspecular.end());
    return labs[static_cast<std::size_t>(found - kAspecular.begin())];
}

AngledLook angled_look(std::span<const Coat> bottom_up, const colour::Reflectance& ground,
                       const Looker& looker) {
    const GlintStack stack(bottom_up);
    const colour::Reflectance inside = stacked(bottom_up, ground);
    AngledLook look;
    for (std::size_t i = 0; i < kAspecular.size(); ++i)
        look.labs[i] = looker.lab_outside(
            seen_by(stack, inside, aspecular_scene(kAspecular[i]), looker.skin(), looker.specular()));
    look.flop = colour::flop_index(look.at(Degrees{15}).L, look.at(Degrees{45}).L, look.at(Degrees{110}).L);
    return look;
}

}  // namespace fadewright::film
