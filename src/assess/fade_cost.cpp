#include "fadewright/assess/fade_cost.h"

#include "fadewright/paint/mix.h"
#include "fadewright/render/dot_graininess.h"
#include "fadewright/render/panel_shader.h"

#include <algorithm>
#include <cmath>
#include <variant>

namespace fadewright::assess {
namespace {

void add_use(const std::string& mix, Millilitres amount, std::vector<PaintUse>& uses) {
    const auto existing =
        std::find_if(uses.begin(), uses.end(), [&](const PaintUse& use) { return use.mix == mix; });
    if (existing == uses.end()) {
        uses.push_back({mix, amount});
    } else {
        existing->sprayed = existing->sprayed + amount;
    }
}

double max_grain_L(const plan::Job& job, std::span<const double> x, std::span<const double> y) {
    const render::DotGraininess grain(job, job.coats.size());
    if (!grain.has_dots()) return 0;
    std::vector<double> roots(x.size());
    const render::PanelShader shader(job, job.light, job.coats.size());
    const render::PanelShader::Samples samples = shader.sample(x, y);
    grain.graininess_mm(samples.films, samples.grounds, roots);
    std::vector<colour::XYZ> xyz(x.size());
    shader.xyz(samples, xyz);
    double max_grain = 0;
    for (std::size_t i = 0; i < x.size(); ++i) {
        const double Y = xyz[i].Y / shader.white().Y;
        max_grain = std::max(max_grain, render::visible_grain_L(roots[i], Y, job.view_distance));
    }
    return max_grain;
}

void keep_worse(const Defect& defect, Defect& worst) {
    const bool first = std::holds_alternative<std::monostate>(worst.figures);
    if (first || defect.severity > worst.severity ||
        (defect.severity == worst.severity && defect.value > worst.value))
        worst = defect;
}

}  // namespace

FadeCost fade_cost(const plan::Job& job, std::span<const plan::Point> points) {
    FadeCost cost;
    for (const plan::ResolvedCoat& coat : job.coats) {
        if (coat.deposit) {
            cost.passes += coat.deposit->passes();
            cost.trigger_time = cost.trigger_time + coat.deposit->trigger_time();
            add_use(coat.mix_name, coat.deposit->sprayed_volume(), cost.paint);
        }
        if (coat.even_film.value > 0)
            add_use(coat.mix_name,
                    spray::paint_in_film(paint::wet_film(coat.mix, coat.even_film), job.panel.area_m2()),
                    cost.paint);
    }
    std::vector<double> x, y;
    for (const plan::Point& p : points) {
        x.push_back(p.x.value);
        y.push_back(p.y.value);
        double film = 0;
        for (const plan::ResolvedCoat& coat : job.coats) film += coat.film_um(p.x.value, p.y.value);
        cost.max_film = std::max(cost.max_film, Micrometres{film});
    }
    cost.grain_L = max_grain_L(job, x, y);
    for (const Defect& defect : list_defects(job)) {
        if (defect.kind == DefectKind::sag) keep_worse(defect, cost.sag);
        if (defect.kind == DefectKind::dry_spray) keep_worse(defect, cost.dry_spray);
        if (defect.kind == DefectKind::striping) keep_worse(defect, cost.striping);
    }
    return cost;
}

}  // namespace fadewright::assess
