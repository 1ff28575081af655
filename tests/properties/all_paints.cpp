#include "all_paints.h"

#include "fadewright/film/stack.h"

#include <stdexcept>

namespace fadewright::test {

const std::vector<paint::Paint>& all_paints() {
    static const std::vector<paint::Paint> paints = [] {
        plan::Library library = preset_library();
        Diagnostics diagnostics;
        std::vector<paint::Paint> found;
        for (const std::string& name : library.names(plan::LibraryKind::paints)) {
            const paint::Paint* paint = library.paint(name, diagnostics);
            if (!paint)
                throw std::runtime_error("a paint of the library is invalid:\n" + to_text(diagnostics));
            if (paint->solids.value > 0) found.push_back(*paint);
        }
        return found;
    }();
    return paints;
}

const paint::Paint& find_paint(const std::string& name) {
    for (const paint::Paint& paint : all_paints())
        if (paint.id == name) return paint;
    throw std::runtime_error("no paint called " + name);
}

paint::MixedPaint unmixed(const paint::Paint& paint) {
    const paint::Part part{&paint, 1};
    return paint::mix_paints({&part, 1});
}

colour::Lab daylight_lab(const colour::Reflectance& inside) {
    static const colour::TristimulusWeights weights = colour::tristimulus_weights(
        colour::standard_illuminant(colour::StandardIlluminant::D65), colour::Observer::two_degree);
    const colour::Reflectance reflectance =
        film::through_surface(inside, film::surface_at_normal({}), film::Specular::excluded);
    return colour::to_lab(colour::to_xyz(reflectance, weights), weights.white);
}

}  // namespace fadewright::test
