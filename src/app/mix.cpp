// Appearance of a mix: text, JSON, and a sheet of swatches.

#include "fadewright/paint/mix.h"
#include "fadewright/film/wet_flakes.h"
#include "fadewright/plan/job.h"
#include "fadewright/report/mix_report.h"

#include "fadewright/app/commands.h"
#include "fadewright/render/png.h"
#include "mix_selection.h"
#include "outcome.h"

#include <fmt/core.h>

namespace fadewright::app {
namespace {

// Splat size of the dots model if no gun is given: a 28 um droplet spread to twice its width.
constexpr double kDefaultWetSplat_um = 2 * 28.0 / (3 * 2 * 2);

// Mid colours and visual midpoint, if the colour part has two parts.
std::optional<report::TwoColours> compare_two_colours(SelectedMix& selected, Micrometres coat,
                                                      const film::Colorimeter& colorimeter) {
    if (selected.mix.parts.size() != 2) return std::nullopt;
    std::vector<paint::Part> sides[2];
    for (std::size_t i = 0; i < 2; ++i) {
        plan::Mix alone = selected.mix;
        alone.parts = {{selected.mix.parts[i].name, 1, selected.mix.parts[i].span}};
        alone.white_cut = {};
        alone.extend = 0;
        alone.reduce = {};
        Diagnostics diagnostics;
        const auto parts = resolve_parts(selected, alone, diagnostics);
        if (!parts) return std::nullopt;
        sides[i] = *parts;
        const bool leaves_film = std::any_of(parts->begin(), parts->end(),
                                             [](const paint::Part& p) { return p.paint->solids.value > 0; });
        if (!leaves_film) return std::nullopt;
    }
    report::TwoColours two_colours;
    two_colours.a = selected.mix.parts[0].name;
    two_colours.b = selected.mix.parts[1].name;
    two_colours.a_masstone = colorimeter.lab(film::masstone(paint::mix_paints(sides[0])));
    two_colours.b_masstone = colorimeter.lab(film::masstone(paint::mix_paints(sides[1])));
    two_colours.midpoint = formulation::visual_midpoint(sides[0], sides[1], colorimeter);
    formulation::MidColourInput midpoints;
    midpoints.a = sides[0];
    midpoints.b = sides[1];
    midpoints.film = 3.0 * coat;  // enough to show: three coats below, half a coat of B above
    midpoints.b_film = 0.5 * coat;
    midpoints.splat = Micrometres{kDefaultWetSplat_um * paint::mix_paints(sides[1]).solids.value};
    two_colours.midpoints = formulation::compare_mid_colours(midpoints, selected.ground, colorimeter);
    return two_colours;
}

report::MixFlakes mix_flakes(const report::MixReport& mix_report, const plan::FlakeContent& content,
                             const colour::Reflectance& ground, const film::Colorimeter& colorimeter) {
    const paint::MixedPaint& mixed = mix_report.mix;
    const double viscosity_mPa_s =
        plan::kinematic_viscosity_mm2_per_s(plan::kDefaultFlowCup) * mixed.wet_density.value;
    return {content, film::stir_interval(mixed.flakes, mixed.wet_density, viscosity_mPa_s),
            formulation::flake_drawdown(mixed, mix_report.coat, mix_report.drawdown, ground, colorimeter)};
}

}  // namespace

Outcome mix(Session& session, const MixRequest& request) {
    Attempt<SelectedMix> selection = select_mix(session, request);
    if (!selection) return failed(selection.error(), request);
    std::optional<SelectedMix> selected = std::move(selection).value();
    Diagnostics diagnostics;
    const std::vector<paint::Part> parts = resolve_parts(*selected, selected->mix, diagnostics).value();
    const film::Colorimeter colorimeter(selected->light);
    report::MixReport mix_report;
    mix_report.title = mix_label(selected->mix);
    mix_report.units = selected->units;
    mix_report.ground_name = selected->ground_name;
    mix_report.ground = colorimeter.lab(selected->ground);
    mix_report.light = selected->light.title;
    mix_report.ingredients = paint::ingredients_of(parts);
    mix_report.mix = paint::mix_paints(parts);
    mix_report.coat = request.film.value_or(paint::nominal_film_build(parts));
    mix_report.drawdown = formulation::predict_drawdown(mix_report.mix, mix_report.coat, request.coats,
                                                        selected->ground, colorimeter);
    mix_report.two_colours = compare_two_colours(*selected, mix_report.coat, colorimeter);
    mix_report.price_per_litre = paint::price_per_litre(parts);
    // Flakes can be blue by interference.
    if (!film::has_flakes(mix_report.mix))
        mix_report.bluish_below = formulation::bluish_below(mix_report.mix, colorimeter);
    if (film::has_flakes(mix_report.mix))
        if (const auto content = plan::flake_content(parts, selected->library))
            mix_report.flakes = mix_flakes(mix_report, *content, selected->ground, colorimeter);
    Outcome outcome;
    outcome.out = request.json ? report::mix_json(mix_report) : report::mix_text(mix_report);
    if (!request.out.empty()) {
        render::PngMetadata notes;
        notes.texts = {{"Title", mix_report.title}};
        add_artefact(outcome, request.out, render::png_bytes(report::mix_sheet(mix_report), notes),
                     request.json);
    }
    return outcome;
}

}  // namespace fadewright::app
