// What a mix will look like: text, JSON, and a sheet of swatches.

#include "fadewright/report/blend.h"
#include "fadewright/paint/usual_coat.h"

#include "fadewright/app/commands.h"
#include "fadewright/render/png.h"
#include "mix_choice.h"
#include "outcome.h"

#include <fmt/core.h>

namespace fadewright::app {
namespace {

// A splat of the dots model where no gun is named: a 28 um droplet spread to twice its width.
constexpr double kUsualWetSplat_um = 2 * 28.0 / (3 * 2 * 2);

// The middles and the halfway ratio, when the colour part is made of two.
std::optional<report::TwoColours> two_colours(ChosenMix& chosen, Micrometres coat,
                                              const film::Looker& looker) {
    if (chosen.mix.parts.size() != 2) return std::nullopt;
    std::vector<paint::Part> sides[2];
    for (std::size_t i = 0; i < 2; ++i) {
        plan::Mix alone = chosen.mix;
        alone.parts = {{chosen.mix.parts[i].name, 1, chosen.mix.parts[i].place}};
        alone.white_cut = {};
        alone.extend = 0;
        alone.reduce = {};
        Diagnostics diagnostics;
        const auto parts = resolved(chosen, alone, diagnostics);
        if (!parts) return std::nullopt;
        sides[i] = *parts;
        const bool leaves_film = std::any_of(parts->begin(), parts->end(),
                                             [](const paint::Part& p) { return p.paint->solids.value > 0; });
        if (!leaves_film) return std::nullopt;
    }
    report::TwoColours two;
    two.a = chosen.mix.parts[0].name;
    two.b = chosen.mix.parts[1].name;
    two.a_masstone = looker.lab(film::masstone(paint::mixed(sides[0])));
    two.b_masstone = looker.lab(film::masstone(paint::mixed(sides[1])));
    two.half = film::halfway(sides[0], sides[1], looker);
    film::Middle middle;
    middle.a = sides[0];
    middle.b = sides[1];
    middle.film = 3.0 * coat;  // laid until it counts: three coats below, half a coat of B above
    middle.b_film = 0.5 * coat;
    middle.splat = Micrometres{kUsualWetSplat_um * paint::mixed(sides[1]).solids.value};
    two.middles = film::middle_looks(middle, chosen.ground, looker);
    return two;
}

}  // namespace

Outcome blend(const BlendRequest& request) {
    Outcome outcome;
    std::optional<ChosenMix> chosen = chosen_mix(request, outcome);
    if (!chosen) return outcome;
    Diagnostics diagnostics;
    const std::vector<paint::Part> parts = resolved(*chosen, chosen->mix, diagnostics).value();
    const film::Looker looker(chosen->light);
    report::Blend blend;
    blend.title = mix_words(chosen->mix);
    blend.units = chosen->units;
    blend.ground_name = chosen->ground_name;
    blend.ground = looker.lab(chosen->ground);
    blend.light = chosen->light.title;
    blend.ingredients = report::ingredients_of(parts);
    blend.mix = paint::mixed(parts);
    blend.coat = request.film.value_or(paint::usual_coat(parts));
    blend.outlook = film::outlook(blend.mix, blend.coat, request.coats, chosen->ground, looker);
    blend.two = two_colours(*chosen, blend.coat, looker);
    blend.price_per_litre = report::price_of(parts);
    // Flakes are blue for reasons of their own.
    if (!film::has_flakes(blend.mix)) blend.bluish_below = report::bluish_below(blend.mix, looker);
    if (film::has_flakes(blend.mix))
        if (const auto content = plan::flake_content(parts, chosen->shelf))
            blend.flakes = report::flake_blend(blend, *content, chosen->ground, looker);
    outcome.out = request.json ? report::blend_json(blend) : report::blend_text(blend);
    if (!request.out.empty()) {
        render::PngNotes notes;
        notes.texts = {{"Title", blend.title}};
        const Result<Done> written =
            write_whole(request.out, render::png_bytes(report::blend_sheet(blend), notes));
        if (!written) return refused(written.refusal());
        say_written(outcome, request.out, request.json);
    }
    return outcome;
}

}  // namespace fadewright::app
