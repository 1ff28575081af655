// Wet faults: what runs down, and what lands too dry to flow.

#include "fadewright/spray/drying.h"
#include "fadewright/spray/flow.h"
#include "fadewright/spray/settings.h"
#include "fault_kinds.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace fadewright::render {
namespace {

constexpr Celsius kBook{20};  // at which evaporation figures are given

// How fast butyl acetate leaves a droplet in this air, um2/s.
double acetate_K(const plan::Booth& booth) {
    return spray::evaporation(spray::Thinner::butyl_acetate, {booth.temperature, booth.humidity}).K_um2_per_s;
}

// How fast what the liquid holds of solvent and water leaves; water hardly leaves in damp air.
double liquid_K(const plan::Liquid& liquid, const plan::Booth& booth) {
    const double solvent = liquid.evaporation * acetate_K(booth);
    if (liquid.water.value <= 0) return solvent;
    const double water =
        spray::evaporation(spray::Thinner::water, {booth.temperature, booth.humidity}).K_um2_per_s;
    return (1 - liquid.water.value) * solvent + liquid.water.value * water;
}

// What is the same all over a coat.
class Spray {
public:
    Spray(const plan::ReadyCoat& coat, const plan::Booth& booth)
        : coat_(coat),
          K_um2_per_s_(liquid_K(coat.liquid, booth)),
          sizes_(spray::droplet_sizes(*coat.gun)),
          splat_(spray::wet_splat(*coat.gun)),
          splat_width_(coat.gun->splat_spread * coat.gun->droplet.value / 1e3),
          liquid_for_(spray::flowing_time(coat.gun->droplet, K_um2_per_s_, coat.liquid.solids)) {
        const spray::Gun& gun = *coat.gun;
        flight_ =
            spray::flight_time(spray::air_jet(gun), coat.distance.value > 0 ? coat.distance : gun.distance);
    }

    [[nodiscard]] Share index(double wet_um, double greatest_um) const {
        if (wet_um <= 0 || wet_um < kThinnest * greatest_um) return Share{0.0};
        const double drifted = std::clamp(
            std::log(wet_um / greatest_um / kMiddleFilm) / std::log(kFringeFilm / kMiddleFilm), 0.0, 1.0);
        const Seconds airborne = std::pow(kFringeDrift, drifted) * flight_;
        const Share dry =
            spray::landing_dry(sizes_, spray::largest_dry(airborne, K_um2_per_s_, coat_.liquid.solids));
        const Share lonely = spray::without_neighbour(Micrometres{wet_um}, splat_);
        return spray::dry_spray_index(dry, lonely, levelling(wet_um), drying());
    }

    [[nodiscard]] Seconds drying() const { return Seconds{std::max(liquid_for_.value, 1e-6)}; }

private:
    // Over the gaps between splats, in the film that there is.
    [[nodiscard]] Seconds levelling(double wet_um) const {
        if (coat_.laydown == plan::Laydown::fog) return drying();
        const double splats = wet_um / splat_.value;
        const double apart = splat_width_.value / std::sqrt(std::min(1.0, splats));
        return spray::levelling_time(coat_.liquid.paint, Millimetres{apart}, Micrometres{wet_um});
    }

    const plan::ReadyCoat& coat_;
    double K_um2_per_s_;
    spray::DropletSizes sizes_;
    Micrometres splat_;
    Millimetres splat_width_;
    Seconds liquid_for_;
    Seconds flight_;
};

// Length of the line between cells where `in` holds and where it does not, each piece by the share of its side
// that lies across the steepest way.
double line_length_mm(const FaultGrid& grid, const std::vector<double>& values,
                      const std::function<bool(std::size_t)>& in) {
    const auto columns = static_cast<std::size_t>(grid.frame().width);
    const auto rows = static_cast<std::size_t>(grid.frame().height);
    double length = 0;
    for (std::size_t row = 0; row < rows; ++row)
        for (std::size_t column = 0; column < columns; ++column) {
            const std::size_t i = row * columns + column;
            const std::size_t left = column > 0 ? i - 1 : i, right = column + 1 < columns ? i + 1 : i;
            const std::size_t up = row > 0 ? i - columns : i, down = row + 1 < rows ? i + columns : i;
            const double dx = values[right] - values[left], dy = values[down] - values[up];
            const double steep = std::hypot(dx, dy);
            if (!grid.inside(i) || steep == 0) continue;
            if (grid.inside(right) && in(i) != in(right)) length += std::abs(dx) / steep;
            if (grid.inside(down) && in(i) != in(down)) length += std::abs(dy) / steep;
        }
    return length * grid.frame().mm_per_px;
}

std::string dry_words(const SampledCoat& sampled, double worst, double gritty_share, double dry_cells,
                      double line_mm) {
    if (dry_cells == 0) return fmt::format("lands wet everywhere (dryness {:.2f} at most)", worst);
    const double cell_mm = sampled.grid.frame().mm_per_px;
    const double area_mm2 = dry_cells * cell_mm * cell_mm;
    const ShownUnits units = sampled.job.units;
    std::string words = fmt::format("about {}", units.patch_mm2(area_mm2));
    if (line_mm > 0)
        words += fmt::format(", a fringe about {} wide", units.text(Millimetres{area_mm2 / line_mm}));
    words += fmt::format("; dryness {:.2f} at its worst, gritty on {:.1f} % of the panel", worst,
                         100 * gritty_share);
    words += sampled.coat.laydown == plan::Laydown::fog
                 ? "; it is meant as fog: bed it in with clear"
                 : "; go closer or slower, or nib it off and bed it in";
    return words;
}

}  // namespace

Seconds thickening(const plan::Liquid& liquid, const plan::Booth& booth) {
    const double faster = liquid_K(liquid, booth) / acetate_K({kBook, booth.humidity});
    return Seconds{kThickening.value / std::max(faster, 1e-3)};  // in saturated air water stays
}

// From the share of gravity that pushes into the surface.
Degrees leaning(Degrees panel, const spray::Slope& surface) noexcept {
    const double a = panel.value * std::numbers::pi / 180;
    const double normal = std::sqrt(1 + surface.dz_dx * surface.dz_dx + surface.dz_dy * surface.dz_dy);
    const double into = (std::cos(a) - surface.dz_dy * std::sin(a)) / normal;
    return Degrees{std::acos(std::clamp(into, -1.0, 1.0)) * 180 / std::numbers::pi};
}

Share dryness(const plan::ReadyCoat& coat, const plan::Booth& booth, Micrometres wet, Micrometres greatest) {
    return Spray(coat, booth).index(wet.value, greatest.value);
}

std::optional<Fault> sag_fault(const SampledCoat& sampled, Severities map) {
    const plan::Job& job = sampled.job;
    const plan::ReadyCoat& coat = sampled.coat;
    const FaultGrid& grid = sampled.grid;
    const Seconds tau = thickening(coat.liquid, job.booth);
    const double upright = spray::thickest_film(coat.liquid.paint, tau, kSlip).value;
    const auto lean_at = [&](std::size_t i) {
        return grid.slopes().empty() ? job.inclination : leaning(job.inclination, grid.slopes()[i]);
    };
    std::vector<double> ratio(grid.size(), 0.0);
    double watched = 0;
    for (std::size_t i = 0; i < grid.size(); ++i) {
        if (!grid.inside(i)) continue;
        const double pull = std::sin(lean_at(i).value * std::numbers::pi / 180);
        ratio[i] = sampled.wet_um(i) * std::sqrt(std::max(0.0, pull)) / upright;
        const double severity = severity_of(ratio[i], kNearSag, 1);
        mark(map, i, severity);
        if (severity >= 1) watched += 1;
    }
    const Worst worst = worst_of(grid, ratio, [](std::size_t) { return true; });
    if (!worst.any) return std::nullopt;
    Fault fault{FaultKind::sag,
                coat.name,
                worst.value,
                1,
                level_of(severity_of(worst.value, kNearSag, 1)),
                Millimetres{grid.x(worst.cell)},
                Millimetres{grid.y(worst.cell)},
                Share{watched / grid.cells_inside()},
                ""};
    const double wet = sampled.wet_um(worst.cell);
    const double speed =
        spray::sag(coat.liquid.paint, Micrometres{wet}, lean_at(worst.cell)).surface_mm_per_s;
    fault.words =
        fmt::format("{} wet {}", job.units.text(Micrometres{wet}), place_words(job.units, fault.x, fault.y));
    if (worst.value > 0)
        fault.words += fmt::format("; about {} holds there", job.units.text(Micrometres{wet / worst.value}));
    if (fault.level == Level::watch) fault.words += "; let it flash before more";
    if (fault.level == Level::wrong)
        fault.words += fmt::format("; it starts to slide at {}: lay it in more, thinner coats",
                                   job.units.text(MillimetresPerSecond{speed}, 2));
    if (!coat.liquid.cup_given) fault.words += " (viscosity supposed: time the cup)";
    return fault;
}

std::optional<Fault> dry_fault(const SampledCoat& sampled, Severities map) {
    const plan::Job& job = sampled.job;
    const plan::ReadyCoat& coat = sampled.coat;
    const FaultGrid& grid = sampled.grid;
    const std::vector<double>& laid = sampled.laid_um;
    const Worst most = worst_of(grid, laid, [](std::size_t) { return true; });
    if (!most.any || most.value <= 0) return std::nullopt;
    const Spray spray(coat, job.booth);
    std::vector<double> index(grid.size(), 0.0);
    double dry = 0, gritty = 0;
    for (std::size_t i = 0; i < grid.size(); ++i) {
        if (!grid.inside(i) || sampled.behind_mask(i)) continue;
        index[i] = spray.index(laid[i], most.value).value;
        mark(map, i, severity_of(index[i], spray::kDrySpray.value, spray::kGrittySpray.value));
        if (index[i] >= spray::kDrySpray.value) dry += 1;
        if (index[i] >= spray::kGrittySpray.value) gritty += 1;
    }
    const Worst worst = worst_of(grid, index, [](std::size_t) { return true; });
    const double gritty_share = gritty / grid.cells_inside();
    const bool thorough = gritty_share > kGrittyPanel.value && coat.laydown != plan::Laydown::fog;
    const Level level = dry == 0 ? Level::fine : thorough ? Level::wrong : Level::watch;
    Fault fault{FaultKind::dry,
                coat.name,
                worst.value,
                spray::kGrittySpray.value,
                level,
                Millimetres{grid.x(worst.cell)},
                Millimetres{grid.y(worst.cell)},
                Share{dry / grid.cells_inside()},
                ""};
    // Towards the wet film, not towards the bare panel.
    const double line = line_length_mm(grid, laid, [&](std::size_t i) {
        return laid[i] >= kThinnest * most.value && index[i] < spray::kDrySpray.value;
    });
    const double bare =
        line_length_mm(grid, laid, [&](std::size_t i) { return laid[i] >= kThinnest * most.value; });
    fault.words = dry_words(sampled, worst.value, gritty_share, dry, std::max(line, bare));
    return fault;
}

}  // namespace fadewright::render
