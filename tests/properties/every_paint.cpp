#include "every_paint.h"

#include "fadewright/film/stack.h"

#include <stdexcept>

namespace fadewright::test {

const std::vector<paint::Paint>& every_paint() {
    static const std::vector<paint::Paint> paints = [] {
        plan::Shelf shelf = preset_shelf();
        Diagnostics diagnostics;
        std::vector<paint::Paint> found;
        for (const std::string& name : shelf.names(plan::ShelfKind::paints)) {
            const paint::Paint* paint = shelf.paint(name, diagnostics);
            if (!paint) throw std::runtime_error("a paint of the shelf is wrong:\n" + to_text(diagnostics));
            if (paint->solids.value > 0) found.push_back(*paint);
        }
        return found;
    }();
    return paints;
}

const paint::Paint& paint_called(const std::string& name) {
    for (const paint::Paint& paint : every_paint())
        if (paint.id == name) return paint;
    throw std::runtime_error("no paint called " + name);
}

paint::MixedPaint alone(const paint::Paint& paint) {
    const paint::Part part{&paint, 1};
    return paint::mixed({&part, 1});
}

colour::Lab lab_seen(const colour::Reflectance& inside) {
    static const colour::Weights weights =
        colour::weights(colour::standard_light(colour::StandardLight::D65), colour::Observer::two_degree);
    const colour::Reflectance seen = film::seen(inside, film::skin_at_normal({}), film::Specular::excluded);
    return colour::to_lab(colour::to_xyz(seen, weights), weights.white);
}

}  // namespace fadewright::test
