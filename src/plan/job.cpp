#include "fadewright/plan/job.h"

#include "coat_gun.h"
#include "coat_lie.h"
#include "fadewright/plan/fade.h"
#include "fadewright/plan/plan_schema.h"
#include "mixes.h"
#include "movements.h"
#include "names.h"
#include "shapes.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

namespace fadewright::plan {
namespace {

// What one coat needs of its own fields; true if nothing is missing.
bool check_coat(const Coat& coat, Diagnostics& diagnostics) {
    const std::size_t before = diagnostics.error_count();
    if (coat.mix.value.empty())
        diagnostics.error("P026", coat.place, fmt::format("coat '{}' has no mix", coat.name),
                          "add  mix = \"...\",  or a fade");
    const bool sprayed = !coat.passes.empty() || !coat.sweeps.empty() || !coat.follows.empty();
    if (!sprayed && !coat.cover)
        diagnostics.error("P006", coat.place, fmt::format("coat '{}' lays nothing", coat.name),
                          "add  cover.film = \"20 um\",  or [[coats.sweeps]] or [[coats.passes]]");
    if ((sprayed || coat.laydown == Laydown::fog) && coat.gun.value.empty())
        diagnostics.error("P007", coat.place, fmt::format("coat '{}' has no gun", coat.name),
                          "add  gun = \"...\"; fadewright presets guns lists them");
    for (const Pass& pass : coat.passes) check_movement(pass, diagnostics);
    for (const Sweep& sweep : coat.sweeps) check_hand(sweep, 2, sweep.place, diagnostics);
    for (const Follow& follow : coat.follows) {
        const bool keeps_places = follow.offset.value == 0 || !follow.smooth;
        check_hand(follow, keeps_places ? places_of(follow.path) : 0, follow.place, diagnostics);
    }
    for (const Sweep& sweep : coat.sweeps)
        if (sweep.from.x == sweep.to.x || sweep.from.y == sweep.to.y)
            diagnostics.error("P012", sweep.place, "the sweep's rectangle has no width or no height",
                              "give opposite corners in 'from' and 'to'");
    for (const Follow& follow : coat.follows)
        if (!follow.path.empty() && (follow.shape || places_of(follow.path) < 2))
            diagnostics.error("P025", follow.place,
                              follow.shape ? "there are two lines to follow" : "the line has no length",
                              "give a shape, or a path through different places, or neither for the outline");
    return diagnostics.error_count() == before;
}

void check_plan(const Plan& plan, Shelf& shelf, Diagnostics& diagnostics) {
    const std::vector<std::string> paints = shelf.names(ShelfKind::paints);
    for (const Named<Mix>& mix : plan.mixes)
        if (std::find(paints.begin(), paints.end(), mix.name) != paints.end())
            diagnostics.error("P011", mix.place,
                              fmt::format("'{}' is already a paint of the shelf", mix.name),
                              "give the mix another name");
    std::set<std::string> names;
    for (const Coat& coat : plan.coats)
        if (!names.insert(coat.name).second)
            diagnostics.error("P016", coat.place,
                              fmt::format("another coat is already called '{}'", coat.name),
                              "give every coat a name of its own");
}

class Readying {
public:
    Readying(const Plan& plan, std::string plan_name, Shelf& shelf, Diagnostics& diagnostics)
        : plan_(plan),
          shelf_(shelf),
          diagnostics_(diagnostics),
          mixes_(plan, shelf, diagnostics),
          shapes_(std::move(plan_name), shelf, diagnostics) {}

    void panel(Job& job) {
        const Panel& panel = plan_.panel;
        panel_size(job);
        job.booth = plan_.booth;
        job.inclination = panel.inclination;
        job.ground_name = panel.ground.value;
        if (const Ground* ground = ground_of(panel.ground, job)) job.ground = ground->inside;
        for (const Region& region : panel.regions) {
            const std::optional<DrawnOutline> drawn = shapes_.read(region.shape);
            const Ground* ground = ground_of(region.ground, job);
            if (!drawn || !ground) continue;
            job.regions.push_back({drawn->outline, region.ground.value, ground->inside});
            job.edges.push_back(edge_of(drawn->outline, {}));
        }
        relief(job);
    }

    void masks() {
        for (const Named<Mask>& mask : plan_.masks) {
            const std::optional<DrawnOutline> drawn = shapes_.read(mask.value.shape);
            if (!drawn) continue;
            masks_.emplace(mask.name, drawn->outline);
        }
    }

    void view(Job& job) {
        const colour::Light* light =
            looked_up("P005", ShelfKind::lights, plan_.view.light,
                      [&](const std::string& n) { return shelf_.light(n, diagnostics_); });
        if (light) job.light = *light;
        job.observer = plan_.view.observer == ObserverAngle::two ? colour::Observer::two_degree
                                                                 : colour::Observer::ten_degree;
        job.view_distance = plan_.view.distance;
        job.view_angle = plan_.view.angle;
        job.surface = plan_.view.surface;
    }

    void coats(Job& job) {
        for (const Named<Mix>& mix : plan_.mixes) (void)mixes_.named({mix.name, mix.place});
        for (const Coat& coat : plan_.coats) add_coat(coat, job);
    }

private:
    template <class Find>
    auto looked_up(std::string rule, ShelfKind kind, const Placed<std::string>& name, const Find& find)
        -> decltype(find(name.value)) {
        const std::size_t before = diagnostics_.error_count();
        const auto found = find(name.value);
        if (!found && diagnostics_.error_count() == before) {
            std::string thing(folder_of(kind));
            thing.pop_back();
            report_unknown(std::move(rule), thing, name, shelf_.names(kind), diagnostics_);
        }
        return found;
    }

    const Ground* ground_of(const Placed<std::string>& name, Job& job) {
        const Ground* ground = looked_up("P004", ShelfKind::grounds, name, [&](const std::string& n) {
            return shelf_.ground(n, diagnostics_);
        });
        if (ground) job.origin = std::max(job.origin, ground->origin);
        return ground;
    }

    void panel_size(Job& job) {
        const Panel& panel = plan_.panel;
        const bool sized = panel.width && panel.height;
        const bool any = panel.width || panel.height || panel.corner_radius.value > 0;
        if (panel.outline ? any : !sized) {
            diagnostics_.error(
                "P018", panel.place,
                panel.outline ? "the outline already says how large the panel is" : "the panel has no size",
                panel.outline ? "leave out width, height and corner_radius"
                              : "give width and height, or an outline");
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
                "P013", panel.place,
                fmt::format("a corner radius of {} does not fit", units().as_given(panel.corner_radius)),
                fmt::format("at most {}, half the shorter side", units().as_given(half_side)));
        job.panel = {*panel.width, *panel.height, panel.corner_radius, nullptr, nullptr};
    }

    static Edge edge_of(const spray::Outline& outline, Millimetres softness) {
        return {[outline](double x, double y) { return std::abs(outline.signed_distance_mm(x, y)); },
                softness, 4 * softness};
    }

    // Forms change film and light within their own width, so pictures must look that closely there.
    static void note_form(const spray::ReliefPart& part, Job& job) {
        if (const auto* bevel = std::get_if<spray::Bevel>(&part)) {
            Edge edge = edge_of(bevel->outline, 0.25 * bevel->width);
            edge.band = 1.25 * bevel->width;
            job.edges.push_back(std::move(edge));
        } else if (const auto* groove = std::get_if<spray::Groove>(&part)) {
            const spray::Lines lines = groove->lines;
            job.edges.push_back({[lines](double x, double y) { return lines.away(x, y).distance_mm; },
                                 0.125 * groove->width, 0.75 * groove->width});
        } else if (const auto* cylinder = std::get_if<spray::Cylinder>(&part)) {
            note_finest(0.1 * cylinder->radius, job);
        } else if (const auto* sphere = std::get_if<spray::Sphere>(&part)) {
            note_finest(0.1 * sphere->radius, job);
        } else {
            note_finest(0.01 * std::min(job.panel.width, job.panel.height), job);
        }
    }

    void relief(Job& job) {
        std::vector<spray::ReliefPart> parts;
        for (const Relief& form : plan_.panel.relief) {
            const std::optional<spray::ReliefPart> part = shapes_.read(form, job.panel);
            if (!part) return;
            parts.push_back(*part);
        }
        if (parts.empty()) return;
        parts = joined_grooves(parts);
        for (const spray::ReliefPart& part : parts) note_form(part, job);
        const spray::Box over{0, 0, job.panel.width.value, job.panel.height.value};
        job.panel.relief = std::make_shared<spray::Relief>(std::move(parts), over);
    }

    void put_masks(const Coat& coat, ReadyCoat& ready, Job& job) {
        for (const Placed<std::string>& name : coat.masks) {
            const auto mask = std::find_if(plan_.masks.begin(), plan_.masks.end(),
                                           [&](const Named<Mask>& m) { return m.name == name.value; });
            if (mask == plan_.masks.end()) {
                std::vector<std::string> known;
                for (const Named<Mask>& m : plan_.masks) known.push_back(m.name);
                report_unknown("P022", "mask", name, known, diagnostics_);
                continue;
            }
            const auto outline = masks_.find(name.value);
            if (outline == masks_.end()) continue;  // reported already
            const spray::Covers covers =
                mask->value.covers == Covers::inside ? spray::Covers::inside : spray::Covers::outside;
            const Millimetres gap = mask->value.gap;
            const Millimetres softness = ready.gun ? spray::edge_softness(*ready.gun, gap) : Millimetres{};
            job.edges.push_back(edge_of(outline->second, softness));
            ready.masks.push_back({name.value, {outline->second, covers, gap}, softness});
        }
    }

    Liquid liquid_of(const Coat& coat, const Parts& parts, const paint::MixedPaint& mix) const {
        const auto of_plan = std::find_if(plan_.mixes.begin(), plan_.mixes.end(),
                                          [&](const Named<Mix>& m) { return m.name == coat.mix.value; });
        const bool given = of_plan != plan_.mixes.end() && of_plan->value.cup;
        Liquid liquid;
        liquid.solids = mix.solids;
        liquid.cup_given = given;
        liquid.paint.density = mix.wet_density;
        liquid.paint.viscosity_mPa_s =
            spray::din4_mm2_per_s(given ? *of_plan->value.cup : kUsualCup) * mix.wet_density.value;
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
        ReadyCoat ready;
        ready.name = coat.name;
        ready.mix_name = coat.mix.value;
        ready.laydown = coat.laydown;
        ready.gun_name = coat.gun.value;
        if (coat.cover) ready.cover = coat.cover->film;
        const bool sound = check_coat(coat, diagnostics_);
        const auto parts = coat.mix.value.empty() ? std::nullopt : mixes_.named(coat.mix);
        const ShelfGun* gun = nullptr;
        if (!coat.gun.value.empty())
            gun = looked_up("P003", ShelfKind::guns, coat.gun,
                            [&](const std::string& n) { return shelf_.gun(n, diagnostics_); });
        if (!parts || !sound || (!coat.gun.value.empty() && !gun)) return;
        if (!leaves_film(*parts, coat)) return;
        ready.mix = paint::mixed(*parts);
        ready.clear = std::all_of(parts->begin(), parts->end(), [](const paint::Part& part) {
            return part.paint->role == paint::Role::clear || part.paint->solids.value <= 0;
        });
        ready.liquid = liquid_of(coat, *parts, ready.mix);
        job.origin = std::max(job.origin, ready.mix.origin);
        if (gun) spray_coat(coat, *gun, ready, job);
        put_masks(coat, ready, job);
        lay_flakes(ready, job.panel);
        job.coats.push_back(std::move(ready));
    }

    bool leaves_film(const std::vector<paint::Part>& parts, const Coat& coat) {
        const bool leaves = std::any_of(parts.begin(), parts.end(), [](const paint::Part& part) {
            return part.parts > 0 && part.paint->solids.value > 0;
        });
        if (!leaves)
            diagnostics_.error("P009", coat.mix.place, fmt::format("'{}' leaves no dry film", coat.mix.value),
                               "reducer alone is not a coat; add paint or clear base to the mix");
        return leaves;
    }

    void spray_coat(const Coat& coat, const ShelfGun& shelf_gun, ReadyCoat& ready, Job& job) {
        const spray::Gun gun = gun_for(coat, shelf_gun.gun);
        ready.gun = gun;
        ready.distance = coat.distance.value_or(gun.distance);
        ready.splat = paint::dry_film(ready.mix, spray::wet_splat(gun));
        ready.passes = passes_of(coat, gun, {shelf_gun.speed, &coat}, job);
        passes_ += ready.passes.size();
        if (passes_ > kMostPasses) {
            diagnostics_.error("P014", coat.place,
                               fmt::format("more than {} passes up to this coat", kMostPasses),
                               "lower the overlap, or use a wider gun");
            return;
        }
        if (ready.passes.empty()) return;
        for (const spray::Pass& pass : ready.passes) note_finest(spray::finest_width(gun, pass), job);
        ready.deposit.emplace(gun, ready.passes, job.panel.relief);
    }

    std::vector<spray::Pass> passes_of(const Coat& coat, const spray::Gun& gun, const Usual& usual,
                                       const Job& job) {
        std::vector<spray::Pass> passes;
        for (const Sweep& sweep : coat.sweeps) {
            const auto lines = spray::passes_of(to_spray(sweep, usual), gun);
            passes.insert(passes.end(), lines.begin(), lines.end());
            if (passes.size() > kMostPasses) return passes;
        }
        for (const Follow& follow : coat.follows) {
            if (!follow.path.empty()) {
                passes.push_back(followed(follow, usual));
                continue;
            }
            std::optional<spray::Outline> outline;
            if (!follow.shape) {
                outline = job.panel.drawn_outline();
            } else if (const std::optional<DrawnOutline> drawn = shapes_.read(*follow.shape)) {
                outline = drawn->outline;
            }
            if (!outline) continue;
            const auto rings = followed(follow, *outline, usual);
            if (rings.empty())
                diagnostics_.error(
                    "P025", follow.place,
                    fmt::format("no place lies {} inside the line", units().as_given(-follow.offset)),
                    "use an offset nearer to 0");
            passes.insert(passes.end(), rings.begin(), rings.end());
        }
        for (const Pass& pass : coat.passes) passes.push_back(to_spray(pass, usual));
        return passes;
    }

    static void note_finest(Millimetres width, Job& job) {
        if (job.finest.value == 0 || width < job.finest) job.finest = width;
    }

    const Plan& plan_;
    [[nodiscard]] ShownUnits units() const { return diagnostics_.units(); }

    Shelf& shelf_;
    Diagnostics& diagnostics_;
    MixResolver mixes_;
    ShapeReader shapes_;
    std::map<std::string, spray::Outline> masks_;
    std::size_t passes_ = 0;
};

}  // namespace

namespace {

// What the plan says of its units, before the rest of it is read.
UnitSystem units_said(const Node& plan) {
    const Node* said = plan.find("units");
    return said && said->text == name_of(UnitSystem::us) ? UnitSystem::us : UnitSystem::metric;
}

}  // namespace

std::optional<Plan> read_plan(std::shared_ptr<const Source> source, Diagnostics& diagnostics,
                              std::optional<UnitSystem> units) {
    const std::optional<ReadTree> tree = read_toml(std::move(source), diagnostics);
    if (!tree) return std::nullopt;
    diagnostics.show_in(units.value_or(units_said(tree->root)));
    if (tree->whole && !tree->root.find("plan")) {
        diagnostics.error("S008", tree->root.place,
                          tree->root.entries.empty() ? "there is nothing in this file"
                                                     : "this file does not say that it is a plan",
                          "begin a plan with  plan = 1,  a paint with  paint = 1,  and so on");
        return std::nullopt;
    }
    Plan plan;
    if (!read_thing(*tree, plan, diagnostics)) return std::nullopt;
    return plan;
}

std::optional<LaidPlan> laid_plan(const Plan& plan, const std::string& plan_text, Shelf& shelf,
                                  Diagnostics& diagnostics) {
    const std::size_t before = diagnostics.error_count();
    Job job;
    job.title = plan.title;
    job.hash = sha256_hex(plan_text);
    job.units = plan.units;
    check_plan(plan, shelf, diagnostics);
    Plan laid = without_fades(plan, shelf, diagnostics);
    Readying readying(laid, plan.panel.place.source ? plan.panel.place.source->name() : "", shelf,
                      diagnostics);
    readying.panel(job);
    readying.view(job);
    readying.masks();
    readying.coats(job);
    if (diagnostics.error_count() != before) return std::nullopt;
    return LaidPlan{std::move(laid), std::move(job)};
}

std::optional<Job> ready_job(const Plan& plan, const std::string& plan_text, Shelf& shelf,
                             Diagnostics& diagnostics) {
    std::optional<LaidPlan> laid = laid_plan(plan, plan_text, shelf, diagnostics);
    if (!laid) return std::nullopt;
    return std::move(laid->job);
}

}  // namespace fadewright::plan
