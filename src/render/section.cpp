#include "fadewright/render/section.h"

#include "fadewright/base/contract.h"
#include "fadewright/render/spectra.h"

#include <cmath>

namespace fadewright::render {

Section section(const plan::Job& job, const colour::Light& light, plan::Point from, plan::Point to,
                std::size_t samples) {
    FW_EXPECTS(samples >= 2);
    const SeenJob seen(job, light, job.coats.size());
    const colour::Weights weights = colour::weights(light, job.observer);
    const double dx = to.x.value - from.x.value;
    const double dy = to.y.value - from.y.value;
    const double length = std::hypot(dx, dy);
    FW_EXPECTS(length > 0);
    Section out;
    out.light = light.title;
    for (const plan::ReadyCoat& coat : job.coats) out.coats.push_back(coat.name);
    for (std::size_t i = 0; i < samples; ++i) {
        const double t = static_cast<double>(i) / static_cast<double>(samples - 1);
        SectionPlace place;
        place.along = Millimetres{t * length};
        place.x = Millimetres{from.x.value + t * dx};
        place.y = Millimetres{from.y.value + t * dy};
        for (const plan::ReadyCoat& coat : job.coats)
            place.films.emplace_back(coat.film_um(place.x.value, place.y.value));
        place.seen = seen.reflectance(place.x.value, place.y.value);
        place.lab = colour::to_lab(colour::to_xyz(place.seen, weights), weights.white);
        out.places.push_back(std::move(place));
    }
    return out;
}

}  // namespace fadewright::render
