#include "fadewright/assess/section.h"

#include "fadewright/base/contract.h"
#include "fadewright/render/panel_shader.h"

#include <cmath>

namespace fadewright::assess {

Section section(const plan::Job& job, const colour::Illuminant& light, plan::Point from, plan::Point to,
                std::size_t samples) {
    FW_EXPECTS(samples >= 2);
    const render::PanelShader shader(job, light, job.coats.size());
    const colour::TristimulusWeights weights = colour::tristimulus_weights(light, job.observer);
    const double dx = to.x.value - from.x.value;
    const double dy = to.y.value - from.y.value;
    const double length = std::hypot(dx, dy);
    FW_EXPECTS(length > 0);
    Section out;
    out.light = light.title;
    for (const plan::ResolvedCoat& coat : job.coats) out.coats.push_back(coat.name);
    for (std::size_t i = 0; i < samples; ++i) {
        const double t = static_cast<double>(i) / static_cast<double>(samples - 1);
        SectionSample sample;
        sample.along = Millimetres{t * length};
        sample.x = Millimetres{from.x.value + t * dx};
        sample.y = Millimetres{from.y.value + t * dy};
        for (const plan::ResolvedCoat& coat : job.coats)
            sample.films.emplace_back(coat.film_um(sample.x.value, sample.y.value));
        sample.reflectance = shader.reflectance(sample.x.value, sample.y.value);
        sample.lab = colour::to_lab(colour::to_xyz(sample.reflectance, weights), weights.white);
        out.samples.push_back(std::move(sample));
    }
    return out;
}

}  // namespace fadewright::assess
