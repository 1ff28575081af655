#include "fadewright/plan/job.h"

#include "coat_flakes.h"
#include "coat_gun.h"
#include "fadewright/plan/fade.h"
#include "fadewright/plan/plan_schema.h"
#include "mix_resolver.h"
#include "shapes.h"
#include "spray_passes.h"
#include "unknown_name.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

namespace fadewright::plan {
namespace {

// Required fields of one coat; true if none is missing.
bool check_coat(const Coat& coat, Diagnostics& diagnostics) {
    const std::size_t before = diagnostics.error_count();
    if (coat.mix.value.empty())
        diagnostics.error("P026", coat.span, fmt::format("coat '{}' has no mix", coat.name),
                          "add  mix = \"...\",  or a fade");
    const bool sprayed = !coat.passes.empty() || !coat.sweeps.empty() || !coat.outline_passes.empty();
    if (!sprayed && !coat.even_coat)
        diagnostics.error("P006", coat.span, fmt::format("coat '{}' sprays nothing", coat.name),
                          "add  even_coat.film = \"20 um\",  or [[coats.sweeps]] or [[coats.passes]]");
    if ((sprayed || coat.laydown == Laydown::dots) && coat.gun.value.empty())
        diagnostics.error("P007", coat.span, fmt::format("coat '{}' has no gun", coat.name),
                          "add  gun = \"...\",  a gun from the library");
    for (const Pass& pass : coat.passes) check_movement(pass, diagnostics);
    for (const Sweep& sweep : coat.sweeps) check_motion(sweep, 2, sweep.span, diagnostics);
    for (const OutlinePass& outline_pass : coat.outline_passes) {
        const bool keeps_points = outline_pass.offset.value == 0 || !outline_pass.smooth;
        check_motion(outline_pass, keeps_points ? distinct_point_count(outline_pass.path) : 0,
                     outline_pass.span, diagnostics);
    }
    for (const Sweep& sweep : coat.sweeps)
        if (sweep.from.x == sweep.to.x || sweep.from.y == sweep.to.y)
            diagnostics.error("P012", sweep.span, "the sweep's rectangle has no width or no height",
                              "give opposite corners in 'from' and 'to'");
    for (const OutlinePass& outline_pass : coat.outline_passes)
        if (!outline_pass.path.empty() && (outline_pass.shape || distinct_point_count(outline_pass.path) < 2))
            diagnostics.error(
                "P025", outline_pass.span,
                outline_pass.shape ? "the line to follow is given twice" : "the line has no length",
                "give a shape, or a path through different points, or neither for the outline of the panel");
    return diagnostics.error_count() == before;
}

void check_plan(const Plan& plan, Library& library, Diagnostics& diagnostics) {
    const std::vector<std::string> paints = library.names(LibraryKind::paints);
    for (const Named<Mix>& mix : plan.mixes)
        if (std::find(paints.begin(), paints.end(), mix.name) != paints.end())
            diagnostics.error("P011", mix.span,
                              fmt::format("'{}' is already the name of a paint in the library", mix.name),
                              "give the mix another name");
    std::set<std::string> names;
    for (const Coat& coat : plan.coats)
        if (!names.insert(coat.name).second)
            diagnostics.error("P016", coat.span,
                              fmt::format("another coat is already called '{}'", coat.name),
                              "give every coat a different name");
}

class JobBuilder {
public:
    JobBuilder(const Plan& plan, std::string plan_folder, Library& library, Diagnostics& diagnostics)
        : plan_(plan),
          library_(library),
          diagnostics_(diagnostics),
          mixes_(plan, library, diagnostics),
          shapes_(std::move(plan_folder), library, diagnostics) {}

    void resolve_panel(Job& job) {
        const Panel& panel = plan_.panel;
        resolve_panel_size(job);
        job.booth = plan_.booth;
        job.angle_while_sprayed = panel.angle_while_sprayed;
        job.ground_name = panel.ground.value;
        if (const Ground* ground = find_ground(panel.ground, job)) job.ground = ground->inside;
        for (const Region& region : panel.regions) {
            const std::optional<DrawnOutline> drawn = shapes_.read(region.shape);
            const Ground* ground = find_ground(region.ground, job);
            if (!drawn || !ground) continue;
            job.regions.push_back({drawn->outline, region.ground.value, ground->inside});
            job.edges.push_back(edge_of(drawn->outline, {}));
        }
        resolve_relief(job);
    }

    void resolve_masks() {
        for (const Named<Mask>& mask : plan_.masks) {
            const std::optional<DrawnOutline> drawn = shapes_.read(mask.value.shape);
            if (!drawn) continue;
            masks_.emplace(mask.name, drawn->outline);
        }
    }

    void resolve_view(Job& job) {
        const colour::Illuminant* light =
            find_or_report("P005", LibraryKind::lights, plan_.view.light,
                           [&](const std::string& n) { return library_.light(n, diagnostics_); });
        if (light) job.light = *light;
        job.observer = plan_.view.observer == ObserverAngle::two ? colour::Observer::two_degree
                                                                 : colour::Observer::ten_degree;
        job.view_distance = plan_.view.distance;
        job.view_angle = plan_.view.angle;
        job.surface = plan_.view.surface;
    }

    void resolve_coats(Job& job) {
        for (const Named<Mix>& mix : plan_.mixes) (void)mixes_.resolve({mix.name, mix.span});
        for (const Coat& coat : plan_.coats) add_coat(coat, job);
    }

private:
    template <class Find>
    auto find_or_report(std::string rule, LibraryKind kind, const Located<std::string>& name,
                        const Find& find) -> decltype(find(name.value)) {
        const std::size_t before = diagnostics_.error_count();
        const auto found = find(name.value);
        if (!found && diagnostics_.error_count() == before) {
            std::string kind_name(folder_of(kind));
            kind_name.pop_back();
            report_unknown(std::move(rule), kind_name, name, library_.names(kind), diagnostics_);
        }
        return found;
    }

    const Ground* find_ground(const Located<std::string>& name, Job& job) {
        const Ground* ground = find_or_report("P004", LibraryKind::grounds, name, [&](const std::string& n) {
            return library_.ground(n, diagnostics_);
        });
        if (ground) job.origin = std::max(job.origin, ground->origin);
        return ground;
    }

    void resolve_panel_size(Job& job) {
        const Panel& panel = plan_.panel;
        const bool sized = panel.width && panel.height;
        const bool any = panel.width || panel.height || panel.corner_radius.value > 0;
        if (panel.outline ? any : !sized) {
            diagnostics_.error(
                "P018", panel.span,
                panel.outline ? "the outline already gives the size of the panel" : "the panel has no size",
                panel.outline ? "remove width, height and corner_radius"
                              : "give either width and height or an outline");
            return;
        }
        if (panel.outline) {
            const std::optional<DrawnOutline> drawn = shapes_.read(*panel.outline);
            if (!drawn) return;
            job.panel = {
                drawn->width, drawn->height, {}, std::make_shared<spray::Outline>(drawn->outline), nullptr};
            return;
        }
        const Millimetres half_side = 0.5 * std::min(*panel.width, *panel.height);
        if (panel.corner_radius > half_side)
            diagnostics_.error(
                "P013", panel.span,
                fmt::format("a corner radius of {} does not fit", units().input_text(panel.corner_radius)),
                fmt::format("at most {}, half the shorter side", units().input_text(half_side)));
        job.panel = {*panel.width, *panel.height, panel.corner_radius, nullptr, nullptr};
    }

    static Edge edge_of(const spray::Outline& outline, Millimetres softness) {
        return {[outline](double x, double y) { return std::abs(outline.signed_distance_mm(x, y)); },
                softness, 4 * softness};
    }

    // Relief changes film and light within its own width, so pictures need that resolution there.
    static void note_relief_detail(const spray::ReliefPart& part, Job& job) {
        if (const auto* bevel = std::get_if<spray::Bevel>(&part)) {
            Edge edge = edge_of(bevel->outline, 0.25 * bevel->width);
            edge.reach = 1.25 * bevel->width;
            job.edges.push_back(std::move(edge));
        } else if (const auto* groove = std::get_if<spray::Groove>(&part)) {
            const spray::PolylineSet lines = groove->lines;
            job.edges.push_back(
                {[lines](double x, double y) { return lines.distance_gradient(x, y).distance_mm; },
                 0.125 * groove->width, 0.75 * groove->width});
        } else if (const auto* cylinder = std::get_if<spray::Cylinder>(&part)) {
            note_finest_detail(0.1 * cylinder->radius, job);
        } else if (const auto* sphere = std::get_if<spray::Sphere>(&part)) {
            note_finest_detail(0.1 * sphere->radius, job);
        } else {
            note_finest_detail(0.01 * std::min(job.panel.width, job.panel.height), job);
        }
    }

    void resolve_relief(Job& job) {
        std::vector<spray::ReliefPart> parts;
        for (const Relief& feature : plan_.panel.relief) {
            const std::optional<spray::ReliefPart> part = shapes_.read(feature, job.panel);
            if (!part) return;
            parts.push_back(*part);
        }
        if (parts.empty()) return;
        parts = merge_grooves(parts);
        for (const spray::ReliefPart& part : parts) note_relief_detail(part, job);
        const spray::Box bounds{0, 0, job.panel.width.value, job.panel.height.value};
        job.panel.relief = std::make_shared<spray::Relief>(std::move(parts), bounds);
    }

    void add_masks(const Coat& coat, ResolvedCoat& resolved, Job& job) {
        for (const Located<std::string>& name : coat.masks) {
            const auto mask = std::find_if(plan_.masks.begin(), plan_.masks.end(),
                                           [&](const Named<Mask>& m) { return m.name == name.value; });
            if (mask == plan_.masks.end()) {
                std::vector<std::string> known;
                for (const Named<Mask>& m : plan_.masks) known.push_back(m.name);
                report_unknown("P022", "mask", name, known, diagnostics_);
                continue;
            }
            const auto outline = masks_.find(name.value);
            if (outline == masks_.end()) continue;  // already reported
            const spray::Covers covers =
                mask->value.covers == Covers::inside ? spray::Covers::inside : spray::Covers::outside;
            const Millimetres gap = mask->value.gap;
            const Millimetres softness =
                resolved.gun ? spray::edge_softness(*resolved.gun, gap) : Millimetres{};
            job.edges.push_back(edge_of(outline->second, softness));
            resolved.masks.push_back({name.value, {outline->second, covers, gap}, softness});
        }
    }

    SprayableMix sprayable_mix(const Coat& coat, const Parts& parts, const paint::MixedPaint& mix) const {
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

    void add_coat(const Coat& coat, Job& job) {
        ResolvedCoat resolved;
        resolved.name = coat.name;
        resolved.mix_name = coat.mix.value;
        resolved.laydown = coat.laydown;
        resolved.gun_name = coat.gun.value;
        if (coat.even_coat) resolved.even_film = coat.even_coat->film;
        const bool valid = check_coat(coat, diagnostics_);
        const auto parts = coat.mix.value.empty() ? std::nullopt : mixes_.resolve(coat.mix);
        const LibraryGun* gun = nullptr;
        if (!coat.gun.value.empty())
            gun = find_or_report("P003", LibraryKind::guns, coat.gun,
                                 [&](const std::string& n) { return library_.gun(n, diagnostics_); });
        if (!parts || !valid || (!coat.gun.value.empty() && !gun)) return;
        if (!leaves_film(*parts, coat)) return;
        resolved.mix = paint::mix_paints(*parts);
        resolved.clear = std::all_of(parts->begin(), parts->end(), [](const paint::Part& part) {
            return part.paint->role == paint::Role::clear || part.paint->solids.value <= 0;
        });
        resolved.liquid = sprayable_mix(coat, *parts, resolved.mix);
        job.origin = std::max(job.origin, resolved.mix.origin);
        if (gun) spray_coat(coat, *gun, resolved, job);
        add_masks(coat, resolved, job);
        orient_flakes(resolved, job.panel);
        job.coats.push_back(std::move(resolved));
    }

    bool leaves_film(const std::vector<paint::Part>& parts, const Coat& coat) {
        const bool has_film = std::any_of(parts.begin(), parts.end(), [](const paint::Part& part) {
            return part.parts > 0 && part.paint->solids.value > 0;
        });
        if (!has_film)
            diagnostics_.error("P009", coat.mix.span, fmt::format("'{}' contains no solids", coat.mix.value),
                               "reducer alone is not a coat: add paint or clear base to the mix");
        return has_film;
    }

    void spray_coat(const Coat& coat, const LibraryGun& library_gun, ResolvedCoat& resolved, Job& job) {
        const spray::Gun gun = gun_as_set(coat, library_gun.gun);
        resolved.gun = gun;
        resolved.distance = coat.distance.value_or(gun.distance);
        resolved.splat = paint::dry_film(resolved.mix, spray::wet_splat(gun));
        resolved.passes = passes_of(coat, gun, {library_gun.speed, &coat}, job);
        passes_ += resolved.passes.size();
        if (passes_ > kMaxPasses) {
            diagnostics_.error("P014", coat.span,
                               fmt::format("more than {} passes up to this coat", kMaxPasses),
                               "lower the overlap, or use a gun with a wider pattern");
            return;
        }
        if (resolved.passes.empty()) return;
        for (const spray::Pass& pass : resolved.passes) note_finest_detail(spray::min_width(gun, pass), job);
        resolved.deposit.emplace(gun, resolved.passes, job.panel.relief);
    }

    std::vector<spray::Pass> passes_of(const Coat& coat, const spray::Gun& gun,
                                       const MovementDefaults& defaults, const Job& job) {
        std::vector<spray::Pass> passes;
        for (const Sweep& sweep : coat.sweeps) {
            const auto lines = spray::sweep_passes(to_spray(sweep, defaults), gun);
            passes.insert(passes.end(), lines.begin(), lines.end());
            if (passes.size() > kMaxPasses) return passes;
        }
        for (const OutlinePass& outline_pass : coat.outline_passes) {
            if (!outline_pass.path.empty()) {
                const auto parts = trace_outline_pass(outline_pass, defaults);
                if (parts.empty())
                    diagnostics_.error("P025", outline_pass.span,
                                       fmt::format("the path is too tight for an offset of {}",
                                                   units().input_text(outline_pass.offset)),
                                       "use an offset closer to 0, or a path that turns less");
                passes.insert(passes.end(), parts.begin(), parts.end());
                continue;
            }
            std::optional<spray::Outline> outline;
            if (!outline_pass.shape) {
                outline = job.panel.outline_or_rectangle();
            } else if (const std::optional<DrawnOutline> drawn = shapes_.read(*outline_pass.shape)) {
                outline = drawn->outline;
            }
            if (!outline) continue;
            const auto rings = trace_outline_pass(outline_pass, *outline, defaults);
            if (rings.empty())
                diagnostics_.error(
                    "P025", outline_pass.span,
                    fmt::format("no point is {} inside the line", units().input_text(-outline_pass.offset)),
                    "use an offset closer to 0");
            passes.insert(passes.end(), rings.begin(), rings.end());
        }
        for (const Pass& pass : coat.passes) passes.push_back(to_spray(pass, defaults));
        return passes;
    }

    static void note_finest_detail(Millimetres width, Job& job) {
        if (job.finest_detail.value == 0 || width < job.finest_detail) job.finest_detail = width;
    }

    const Plan& plan_;
    [[nodiscard]] DisplayUnits units() const { return diagnostics_.units(); }

    Library& library_;
    Diagnostics& diagnostics_;
    MixResolver mixes_;
    ShapeReader shapes_;
    std::map<std::string, spray::Outline> masks_;
    std::size_t passes_ = 0;
};

}  // namespace

namespace {

// The plan's units, before the rest of it is read.
UnitSystem stated_units(const Node& plan) {
    const Node* stated = plan.find("units");
    return stated && stated->text == name_of(UnitSystem::us) ? UnitSystem::us : UnitSystem::metric;
}

}  // namespace

std::optional<Plan> read_plan(std::shared_ptr<const Source> source, Diagnostics& diagnostics,
                              std::optional<UnitSystem> units) {
    const std::optional<ParsedTree> tree = read_toml(std::move(source), diagnostics);
    if (!tree) return std::nullopt;
    diagnostics.set_units(units.value_or(stated_units(tree->root)));
    if (tree->complete && !tree->root.find("plan")) {
        diagnostics.error(
            "S008", tree->root.span,
            tree->root.entries.empty() ? "this file is empty" : "this file is not marked as a plan",
            "start a plan with  plan = 1,  a paint with  paint = 1,  and so on");
        return std::nullopt;
    }
    Plan plan;
    if (!read_struct(*tree, plan, diagnostics)) return std::nullopt;
    return plan;
}

std::optional<ExpandedPlan> expand_plan(const Plan& plan, const std::string& plan_text, Library& library,
                                        Diagnostics& diagnostics) {
    const std::size_t before = diagnostics.error_count();
    Job job;
    job.title = plan.title;
    job.hash = sha256_hex(plan_text);
    job.units = plan.units;
    check_plan(plan, library, diagnostics);
    Plan expanded = expand_fades_leniently(plan, library, diagnostics);
    JobBuilder builder(expanded, plan.panel.span.source ? plan.panel.span.source->folder() : "", library,
                       diagnostics);
    builder.resolve_panel(job);
    builder.resolve_view(job);
    builder.resolve_masks();
    builder.resolve_coats(job);
    if (diagnostics.error_count() != before) return std::nullopt;
    return ExpandedPlan{std::move(expanded), std::move(job)};
}

std::optional<Job> resolve_job(const Plan& plan, const std::string& plan_text, Library& library,
                               Diagnostics& diagnostics) {
    std::optional<ExpandedPlan> expanded = expand_plan(plan, plan_text, library, diagnostics);
    if (!expanded) return std::nullopt;
    return std::move(expanded->job);
}

}  // namespace fadewright::plan
