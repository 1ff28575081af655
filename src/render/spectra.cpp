#include "fadewright/render/spectra.h"

#include "fadewright/base/contract.h"
#include "fadewright/kernels/layer_stack.h"

#include <algorithm>

namespace fadewright::render {

void lay(const plan::ReadyCoat& coat, std::size_t band, std::span<const double> film_um,
         std::span<double> reflectance) {
    const double K = coat.mix.K[band], S = coat.mix.S[band];
    if (coat.laydown == plan::Laydown::fog) {
        kernels::lay_fog(film_um, coat.splat.value, K, S, reflectance);
    } else if (coat.laydown == plan::Laydown::as_it_lands) {
        kernels::lay_as_it_lands(film_um, coat.splat.value, K, S, reflectance);
    } else {
        kernels::lay_coat(film_um, K, S, reflectance);
    }
}

SeenJob::SeenJob(const plan::Job& job, const colour::Light& light, std::size_t coats)
    : job_(job),
      coats_(std::min(coats, job.coats.size())),
      weights_(colour::weights(light, job.observer)),
      skin_(film::skin_at_normal({})),
      specular_(job.surface == plan::Surface::gloss ? film::Specular::excluded : film::Specular::included) {}

SeenJob::Grounds SeenJob::grounds(std::span<const double> x_mm, std::span<const double> y_mm) const {
    Grounds out(x_mm.size(), &job_.ground);
    for (const plan::ReadyRegion& region : job_.regions)
        for (std::size_t i = 0; i < out.size(); ++i)
            if (region.outline.inside(x_mm[i], y_mm[i])) out[i] = &region.ground;
    return out;
}

void SeenJob::seen_band(std::size_t band, const Grounds& grounds, std::span<const double> films,
                        std::span<double> reflectance) const {
    for (std::size_t i = 0; i < reflectance.size(); ++i) reflectance[i] = (*grounds[i])[band];
    for (std::size_t c = 0; c < coats_; ++c) {
        const auto film = films.subspan(c * reflectance.size(), reflectance.size());
        lay(job_.coats[c], band, film, reflectance);
    }
    for (double& r : reflectance) r = film::measured(skin_, r, specular_);
}

void SeenJob::xyz(std::span<const double> x_mm, std::span<const double> y_mm,
                  std::span<colour::XYZ> out) const {
    FW_EXPECTS(x_mm.size() == out.size() && y_mm.size() == out.size());
    const std::size_t count = out.size();
    std::vector<double> films(coats_ * count, 0.0);
    for (std::size_t c = 0; c < coats_; ++c)
        job_.coats[c].add_film_um(x_mm, y_mm, std::span(films).subspan(c * count, count));
    const Grounds bare = grounds(x_mm, y_mm);
    std::vector<double> reflectance(count);
    std::fill(out.begin(), out.end(), colour::XYZ{});
    for (std::size_t band = 0; band < colour::kBandCount; ++band) {
        seen_band(band, bare, films, reflectance);
        const auto& w = weights_.w[band];
        for (std::size_t i = 0; i < count; ++i) {
            out[i].X += w[0] * reflectance[i];
            out[i].Y += w[1] * reflectance[i];
            out[i].Z += w[2] * reflectance[i];
        }
    }
}

colour::Reflectance SeenJob::reflectance(double x_mm, double y_mm) const {
    std::vector<double> films(coats_);
    for (std::size_t c = 0; c < coats_; ++c) films[c] = job_.coats[c].film_um(x_mm, y_mm);
    const Grounds bare = grounds({&x_mm, 1}, {&y_mm, 1});
    colour::Reflectance seen;
    for (std::size_t band = 0; band < colour::kBandCount; ++band)
        seen_band(band, bare, films, {&seen[band], 1});
    return seen;
}

}  // namespace fadewright::render
