#include "coat_resolver.h"

#include "coat_flakes.h"
#include "coat_rules.h"
#include "fadewright/plan/names.h"

#include <fmt/core.h>

#include <algorithm>

namespace fadewright::plan {
namespace {

bool is_clear(const Parts& parts) {
    return std::all_of(parts.begin(), parts.end(), [](const paint::Part& part) {
        return part.paint->role == paint::Role::clear || part.paint->solids.value <= 0;
    });
}

}  // namespace

void CoatResolver::add(const Coat& coat, bool panel_known, Job& job) {
    ResolvedCoat resolved;
    resolved.name = coat.name;
    resolved.mix_name = coat.mix.value;
    resolved.fade_role = coat.fade_role;
    resolved.laydown = coat.laydown;
    resolved.gun_name = coat.gun.value;
    if (coat.even_coat) resolved.even_film = coat.even_coat->film;
    const bool sprayable = check_coat(coat, context_.unread, diagnostics_);
    check_mask_names(coat, plan_, context_.unread, diagnostics_);
    for (const OutlinePass& outline_pass : coat.outline_passes)
        if (outline_pass.shape) (void)context_.shapes.read(*outline_pass.shape);
    const auto parts = coat.mix.value.empty() ? std::nullopt : mixes_.resolve(coat.mix);
    const bool has_film = parts && leaves_film(*parts, coat);
    const LibraryGun* gun = nullptr;
    if (!coat.gun.value.empty()) gun = find_gun("P003", coat.gun, context_.library, diagnostics_);
    if (!sprayable || !panel_known) return;
    if (gun) {
        resolved.gun = gun_as_set(coat, gun->gun);
        resolved.passes = passes_of(coat, *gun, job);
        if (!count_passes(resolved.passes.size(), coat)) return;
    }
    if (!has_film || (!coat.gun.value.empty() && !gun)) return;
    resolved.mix = paint::mix_paints(*parts);
    resolved.clear = is_clear(*parts);
    resolved.liquid = sprayable_mix(coat, *parts, resolved.mix);
    job.origin = std::max(job.origin, resolved.mix.origin);
    if (resolved.gun) {
        resolved.distance = coat.distance.value_or(resolved.gun->distance);
        resolved.splat = paint::dry_film(resolved.mix, spray::wet_splat(*resolved.gun));
        for (const spray::Pass& pass : resolved.passes)
            note_finest_detail(spray::min_width(*resolved.gun, pass), job);
        if (!resolved.passes.empty())
            resolved.deposit.emplace(*resolved.gun, resolved.passes, job.panel.relief);
    }
    add_masks(coat, plan_, masks_, resolved, job);
    orient_flakes(resolved, job.panel);
    job.coats.push_back(std::move(resolved));
}

SprayableMix CoatResolver::sprayable_mix(const Coat& coat, const Parts& parts,
                                         const paint::MixedPaint& mix) const {
    const auto of_plan = std::find_if(plan_.mixes.begin(), plan_.mixes.end(),
                                      [&](const Named<Mix>& m) { return m.name == coat.mix.value; });
    const bool given = of_plan != plan_.mixes.end() && of_plan->value.flow_cup;
    SprayableMix liquid;
    liquid.solids = mix.solids;
    liquid.flow_cup_given = given;
    liquid.paint.density = mix.wet_density;
    liquid.paint.viscosity_mPa_s =
        kinematic_viscosity_mm2_per_s(given ? *of_plan->value.flow_cup : kDefaultFlowCup) *
        mix.wet_density.value;
    double volatile_part = 0, leaving = 0, water = 0;
    for (const paint::Part& part : parts) {
        const double v = part.parts * (1 - part.paint->solids.value);
        volatile_part += v;
        leaving += v * part.paint->evaporation;
        water += v * part.paint->water.value;
    }
    liquid.evaporation = volatile_part > 0 ? leaving / volatile_part : 1;
    liquid.water = Share{volatile_part > 0 ? water / volatile_part : 0};
    return liquid;
}

bool CoatResolver::leaves_film(const Parts& parts, const Coat& coat) {
    const bool has_film = std::any_of(parts.begin(), parts.end(), [](const paint::Part& part) {
        return part.parts > 0 && part.paint->solids.value > 0;
    });
    if (!has_film)
        diagnostics_.error("P009", coat.mix.span, fmt::format("'{}' contains no solids", coat.mix.value),
                           "reducer alone is not a coat: add paint or clear base to the mix");
    return has_film;
}

bool CoatResolver::count_passes(std::size_t passes, const Coat& coat) {
    passes_ += passes;
    if (passes_ <= kMaxPasses) return true;
    diagnostics_.error("P014", coat.span, fmt::format("more than {} passes up to this coat", kMaxPasses),
                       "lower the overlap, or use a gun with a wider pattern");
    return false;
}

std::vector<spray::Pass> CoatResolver::passes_of(const Coat& coat, const LibraryGun& gun, const Job& job) {
    const MovementDefaults defaults{gun.speed, &coat};
    std::vector<spray::Pass> passes;
    for (const Sweep& sweep : coat.sweeps) {
        const auto lines = spray::sweep_passes(to_spray(sweep, defaults), gun_as_set(coat, gun.gun));
        passes.insert(passes.end(), lines.begin(), lines.end());
        if (passes.size() > kMaxPasses) return passes;
    }
    for (const OutlinePass& outline_pass : coat.outline_passes)
        add_outline_pass(outline_pass, defaults, job, passes);
    for (const Pass& pass : coat.passes) passes.push_back(to_spray(pass, defaults));
    return passes;
}

void CoatResolver::add_outline_pass(const OutlinePass& outline_pass, const MovementDefaults& defaults,
                                    const Job& job, std::vector<spray::Pass>& passes) {
    const DisplayUnits units = diagnostics_.units();
    if (!outline_pass.path.empty()) {
        const auto parts = trace_outline_pass(outline_pass, defaults);
        if (parts.empty())
            diagnostics_.error("P025", outline_pass.span,
                               fmt::format("the path is too tight for an offset of {}",
                                           units.input_text(outline_pass.offset)),
                               "use an offset closer to 0, or a path that turns less");
        passes.insert(passes.end(), parts.begin(), parts.end());
        return;
    }
    std::optional<geometry::Outline> outline;
    if (!outline_pass.shape) {
        outline = job.panel.outline_or_rectangle();
    } else if (const std::optional<DrawnOutline> drawn = context_.shapes.read(*outline_pass.shape)) {
        outline = drawn->outline;
    }
    if (!outline) return;
    const auto rings = trace_outline_pass(outline_pass, *outline, defaults);
    if (rings.empty())
        diagnostics_.error(
            "P025", outline_pass.span,
            fmt::format("no point is {} inside the line", units.input_text(-outline_pass.offset)),
            "use an offset closer to 0");
    passes.insert(passes.end(), rings.begin(), rings.end());
}

}  // namespace fadewright::plan
