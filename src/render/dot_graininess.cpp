#include "fadewright/render/dot_graininess.h"

#include "fadewright/film/dots.h"
#include "fadewright/film/graininess.h"
#include "fadewright/film/surface.h"
#include "fadewright/kernels/layer_stack.h"
#include "fadewright/render/panel_shader.h"

#include <algorithm>
#include <cmath>

namespace fadewright::render {
namespace {

constexpr double kMinLoad = 0.01, kMaxLoad = 60;  // splats over a point; beyond them there is no graininess

}  // namespace

double visible_grain_L(double root_mm, double Y, Millimetres viewing_distance) {
    const double power = root_mm * root_mm * Y * Y;  // of the absolute luminance
    return film::graininess_in_lightness(film::visible_graininess(power, viewing_distance), Y);
}

double DotGraininess::load_at(std::size_t i) noexcept {
    return kMinLoad * std::pow(kMaxLoad / kMinLoad, static_cast<double>(i) / (kLoads - 1));
}

// Linear between the logarithms of the loads and between the grounds; proportional to the load below the
// smallest.
double DotGraininess::Table::at(double splats, double ground) const noexcept {
    if (splats <= 0 || splats > kMaxLoad) return 0;
    const double load = std::max(splats, kMinLoad);
    const double i = std::log(load / kMinLoad) / std::log(kMaxLoad / kMinLoad) * (kLoads - 1);
    const double j = std::clamp(ground, 0.0, 1.0) * (kGrounds - 1);
    const auto i0 = std::min(static_cast<std::size_t>(i), kLoads - 2),
               j0 = std::min(static_cast<std::size_t>(j), kGrounds - 2);
    const double u = i - static_cast<double>(i0), v = j - static_cast<double>(j0);
    const double value = (1 - u) * ((1 - v) * power[i0][j0] + v * power[i0][j0 + 1]) +
                         u * ((1 - v) * power[i0 + 1][j0] + v * power[i0 + 1][j0 + 1]);
    return value * splats / load;
}

DotGraininess::DotGraininess(const plan::Job& job, std::size_t coats)
    : job_(job), tables_(std::min(coats, job.coats.size())) {
    for (std::size_t c = 0; c < tables_.size(); ++c) {
        const plan::ResolvedCoat& coat = job.coats[c];
        if (coat.laydown == plan::Laydown::wet || !coat.gun || coat.splat.value <= 0) continue;
        Table& table = tables_[c];
        table.dots = has_dots_ = true;
        const double um = coat.gun->droplet.value * coat.gun->splat_spread;
        const double area = film::splat_area_mm2(Millimetres{um / 1000});
        for (std::size_t i = 0; i < kLoads; ++i)
            for (std::size_t j = 0; j < kGrounds; ++j) {
                const double m = load_at(i);
                const double alone = coat.laydown == plan::Laydown::automatic ? std::exp(-m) : 1;
                const double ground = static_cast<double>(j) / (kGrounds - 1);
                const std::vector<double> piles = film::reflectance_by_splat_count(
                    coat.mix.K[colour::kGreenBand], coat.mix.S[colour::kGreenBand], coat.splat.value, ground,
                    m);
                table.power[i][j] = alone * alone * area * film::graininess_per_splat(piles, m);
            }
    }
}

void DotGraininess::graininess_mm(std::span<const double> films_um,
                                  std::span<const colour::Reflectance* const> grounds,
                                  std::span<double> roots) const {
    const std::size_t count = roots.size();
    std::vector<double> R, power(count, 0.0);
    for (const colour::Reflectance* ground : grounds) R.push_back((*ground)[colour::kGreenBand]);
    for (std::size_t c = 0; c < tables_.size(); ++c) {
        const plan::ResolvedCoat& coat = job_.coats[c];
        const double K = coat.mix.K[colour::kGreenBand], S = coat.mix.S[colour::kGreenBand];
        const std::span<const double> film = films_um.subspan(c * count, count);
        for (std::size_t i = 0; i < count; ++i) {
            const kernels::TwoFlux flux = kernels::two_flux(K, S, film[i]);
            const double denominator = 1 - flux.R0 * R[i];
            const double transmitted = denominator > 0 ? flux.T * flux.T / (denominator * denominator) : 1;
            power[i] *= transmitted * transmitted;
            if (tables_[c].dots) power[i] += tables_[c].at(film[i] / coat.splat.value, R[i]);
        }
        lay_coat(coat, colour::kGreenBand, film, R);
    }
    const film::SaundersonCorrection surface = film::surface_at_normal({});
    for (std::size_t i = 0; i < count;
         ++i) {  // change of the visible reflectance per change below the surface, relative
        constexpr double step = 1e-4;
        const double low = std::max(0.0, R[i] - step), high = std::min(1.0, R[i] + step);
        const double external = film::external_reflectance(surface, R[i], film::Specular::excluded);
        const double slope = (film::external_reflectance(surface, high, film::Specular::excluded) -
                              film::external_reflectance(surface, low, film::Specular::excluded)) /
                             (high - low);
        roots[i] = external > 0 ? std::sqrt(power[i]) * slope / external : 0;
    }
}

}  // namespace fadewright::render
