// Runs and sags, and dry spray.

#include "defect_kinds.h"
#include "fadewright/spray/drying.h"
#include "fadewright/spray/gun.h"
#include "fadewright/spray/sag_levelling.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace fadewright::assess {
namespace {

constexpr Celsius kReferenceTemperature{20};  // of the evaporation rates in paint files

// Evaporation constant of a droplet of butyl acetate in this air, um2/s.
double acetate_K(const plan::Booth& booth) {
    return spray::evaporation(spray::Thinner::butyl_acetate, {booth.temperature, booth.humidity}).K_um2_per_s;
}

// Evaporation constant of the volatiles, um2/s; in damp air water hardly evaporates.
double liquid_K(const plan::SprayableMix& liquid, const plan::Booth& booth) {
    const double solvent = liquid.evaporation * acetate_K(booth);
    if (liquid.water.value <= 0) return solvent;
    const double water =
        spray::evaporation(spray::Thinner::water, {booth.temperature, booth.humidity}).K_um2_per_s;
    return (1 - liquid.water.value) * solvent + liquid.water.value * water;
}

// The spray of one coat, the same all over the panel.
class CoatSpray {
public:
    CoatSpray(const plan::ResolvedCoat& coat, const plan::Booth& booth)
        : coat_(coat),
          K_um2_per_s_(liquid_K(coat.liquid, booth)),
          sizes_(spray::droplet_sizes(*coat.gun)),
          splat_(spray::wet_splat(*coat.gun)),
          splat_width_(coat.gun->splat_spread * coat.gun->droplet.value / 1e3),
          open_time_(spray::open_time(coat.gun->droplet, K_um2_per_s_, coat.liquid.solids)) {
        const spray::Gun& gun = *coat.gun;
        flight_ =
            spray::flight_time(spray::air_jet(gun), coat.distance.value > 0 ? coat.distance : gun.distance);
    }

    [[nodiscard]] Share dry_spray_index(double wet_um, double max_wet_um) const {
        if (wet_um <= 0 || wet_um < kMinFilmShare * max_wet_um) return Share{0.0};
        const double drifted = std::clamp(
            std::log(wet_um / max_wet_um / kCoreFilm) / std::log(kFringeFilm / kCoreFilm), 0.0, 1.0);
        const Seconds airborne = std::pow(kFringeDrift, drifted) * flight_;
        const Share dry =
            spray::dry_share(sizes_, spray::dry_cutoff(airborne, K_um2_per_s_, coat_.liquid.solids));
        const Share isolated = spray::isolated_share(Micrometres{wet_um}, splat_);
        return spray::dry_spray_index(dry, isolated, levelling_time(wet_um), drying_time());
    }

    [[nodiscard]] Seconds drying_time() const { return Seconds{std::max(open_time_.value, 1e-6)}; }

private:
    // Over the gaps between splats, in a film of that thickness.
    [[nodiscard]] Seconds levelling_time(double wet_um) const {
        if (coat_.laydown == plan::Laydown::dots) return drying_time();
        const double splats = wet_um / splat_.value;
        const double gap = splat_width_.value / std::sqrt(std::min(1.0, splats));
        return spray::levelling_time(coat_.liquid.paint, Millimetres{gap}, Micrometres{wet_um});
    }

    const plan::ResolvedCoat& coat_;
    double K_um2_per_s_;
    spray::DropletSizes sizes_;
    Micrometres splat_;
    Millimetres splat_width_;
    Seconds open_time_;
    Seconds flight_;
};

// Length of the boundary between cells where `holds` is true and cells where it is false. Each cell side
// counts by the part of it that is at right angles to the gradient of `values`.
double contour_length_mm(const PanelGrid& grid, const std::vector<double>& values,
                         const std::function<bool(std::size_t)>& holds) {
    const auto columns = static_cast<std::size_t>(grid.frame().width);
    const auto rows = static_cast<std::size_t>(grid.frame().height);
    double length = 0;
    for (std::size_t row = 0; row < rows; ++row)
        for (std::size_t column = 0; column < columns; ++column) {
            const std::size_t i = row * columns + column;
            const std::size_t left = column > 0 ? i - 1 : i, right = column + 1 < columns ? i + 1 : i;
            const std::size_t up = row > 0 ? i - columns : i, down = row + 1 < rows ? i + columns : i;
            const double dx = values[right] - values[left], dy = values[down] - values[up];
            const double gradient = std::hypot(dx, dy);
            if (!grid.inside(i) || gradient == 0) continue;
            if (grid.inside(right) && holds(i) != holds(right)) length += std::abs(dx) / gradient;
            if (grid.inside(down) && holds(i) != holds(down)) length += std::abs(dy) / gradient;
        }
    return length * grid.frame().mm_per_px;
}

}  // namespace

Seconds thickening_time(const plan::SprayableMix& liquid, const plan::Booth& booth) {
    const double faster = liquid_K(liquid, booth) / acetate_K({kReferenceTemperature, booth.humidity});
    return Seconds{kThickeningTime.value / std::max(faster, 1e-3)};  // water stays in saturated air
}

// By the component of gravity into the surface.
Degrees surface_inclination(Degrees panel, const spray::SurfaceSample& surface) noexcept {
    const double a = radians(panel);
    const double normal = std::sqrt(1 + surface.dz_dx * surface.dz_dx + surface.dz_dy * surface.dz_dy);
    const double into_surface = (std::cos(a) - surface.dz_dy * std::sin(a)) / normal;
    return Degrees{std::acos(std::clamp(into_surface, -1.0, 1.0)) * 180 / std::numbers::pi};
}

Share dry_spray_index(const plan::ResolvedCoat& coat, const plan::Booth& booth, Micrometres wet,
                      Micrometres max_wet) {
    return CoatSpray(coat, booth).dry_spray_index(wet.value, max_wet.value);
}

std::optional<Defect> sag_defect(const SampledCoat& sampled, SeverityScores map) {
    const plan::Job& job = sampled.job;
    const plan::ResolvedCoat& coat = sampled.coat;
    const PanelGrid& grid = sampled.grid;
    const Seconds tau = thickening_time(coat.liquid, job.booth);
    const double vertical_limit = spray::sag_limit(coat.liquid.paint, tau, kMaxSlip).value;
    const auto inclination_at = [&](std::size_t i) {
        return grid.slopes().empty() ? job.angle_while_sprayed
                                     : surface_inclination(job.angle_while_sprayed, grid.slopes()[i]);
    };
    std::vector<double> ratio(grid.size(), 0.0);
    double affected = 0;
    for (std::size_t i = 0; i < grid.size(); ++i) {
        if (!grid.inside(i)) continue;
        const double pull = std::sin(radians(inclination_at(i)));
        ratio[i] = sampled.wet_um(i) * std::sqrt(std::max(0.0, pull)) / vertical_limit;
        const double score = severity_score(ratio[i], kSagCheck, 1);
        raise_score(map, i, score);
        if (score >= 1) affected += 1;
    }
    const Maximum worst = find_maximum(grid, ratio, [](std::size_t) { return true; });
    if (!worst.found) return std::nullopt;
    const Micrometres wet_film{sampled.wet_um(worst.cell)};
    const double speed = spray::sag(coat.liquid.paint, wet_film, inclination_at(worst.cell)).surface_mm_per_s;
    return Defect{DefectKind::sag,
                  coat.name,
                  worst.value,
                  1,
                  to_severity(severity_score(worst.value, kSagCheck, 1)),
                  Millimetres{grid.x(worst.cell)},
                  Millimetres{grid.y(worst.cell)},
                  Share{affected / grid.cells_inside()},
                  SagFigures{wet_film, MillimetresPerSecond{speed}, !coat.liquid.flow_cup_given}};
}

std::optional<Defect> dry_spray_defect(const SampledCoat& sampled, SeverityScores map) {
    const plan::Job& job = sampled.job;
    const plan::ResolvedCoat& coat = sampled.coat;
    const PanelGrid& grid = sampled.grid;
    const std::vector<double>& wet = sampled.unmasked_wet_um;
    const Maximum maximum = find_maximum(grid, wet, [](std::size_t) { return true; });
    if (!maximum.found || maximum.value <= 0) return std::nullopt;
    const CoatSpray coat_spray(coat, job.booth);
    std::vector<double> index(grid.size(), 0.0);
    double dry = 0, gritty = 0;
    for (std::size_t i = 0; i < grid.size(); ++i) {
        if (!grid.inside(i) || sampled.behind_mask(i)) continue;
        index[i] = coat_spray.dry_spray_index(wet[i], maximum.value).value;
        raise_score(map, i, severity_score(index[i], spray::kDrySpray.value, spray::kGrittySpray.value));
        if (index[i] >= spray::kDrySpray.value) dry += 1;
        if (index[i] >= spray::kGrittySpray.value) gritty += 1;
    }
    const Maximum worst = find_maximum(grid, index, [](std::size_t) { return true; });
    const double gritty_share = gritty / grid.cells_inside();
    const bool widespread = gritty_share > kGrittyShareLimit.value && coat.laydown != plan::Laydown::dots;
    const Severity severity = dry == 0 ? Severity::ok : widespread ? Severity::problem : Severity::check;
    // Width from the side of the wet film, not from that of the bare panel.
    const double inner_mm = contour_length_mm(grid, wet, [&](std::size_t i) {
        return wet[i] >= kMinFilmShare * maximum.value && index[i] < spray::kDrySpray.value;
    });
    const double outer_mm =
        contour_length_mm(grid, wet, [&](std::size_t i) { return wet[i] >= kMinFilmShare * maximum.value; });
    const double contour_mm = std::max(inner_mm, outer_mm);
    const double cell_mm = grid.frame().mm_per_px;
    DrySprayFigures figures{dry * cell_mm * cell_mm, std::nullopt, Share{gritty_share}, coat.laydown};
    if (contour_mm > 0) figures.fringe_width = Millimetres{figures.dry_mm2 / contour_mm};
    return Defect{DefectKind::dry_spray,
                  coat.name,
                  worst.value,
                  spray::kGrittySpray.value,
                  severity,
                  Millimetres{grid.x(worst.cell)},
                  Millimetres{grid.y(worst.cell)},
                  Share{dry / grid.cells_inside()},
                  figures};
}

}  // namespace fadewright::assess
