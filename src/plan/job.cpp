#include "fadewright/plan/job.h"

#include "fadewright/plan/plan_schema.h"
#include "mixes.h"
#include "names.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

namespace fadewright::plan {
namespace {

spray::Point to_spray(const Point& p) { return {p.x, p.y}; }

spray::Pass to_spray(const Pass& pass, const Coat& coat, MillimetresPerSecond usual_speed) {
    spray::Pass out;
    for (const Point& p : pass.path) out.points.push_back(to_spray(p));
    out.speed = pass.speed ? *pass.speed : coat.speed.value_or(usual_speed);
    out.distance = pass.distance ? pass.distance : coat.distance;
    out.repeats = pass.repeats;
    out.feather_on = pass.feather_on;
    out.feather_off = pass.feather_off;
    out.overrun = pass.overrun;
    out.dwell = pass.dwell.value_or(Seconds{0.0});
    return out;
}

spray::Sweep to_spray(const Sweep& sweep, const Coat& coat, MillimetresPerSecond usual_speed) {
    spray::Sweep out;
    out.from = to_spray(sweep.from);
    out.to = to_spray(sweep.to);
    out.overlap = sweep.overlap;
    out.direction = sweep.direction;
    out.cross = sweep.cross;
    out.speed = sweep.speed ? *sweep.speed : coat.speed.value_or(usual_speed);
    out.distance = sweep.distance ? sweep.distance : coat.distance;
    out.repeats = sweep.repeats;
    out.feather_on = sweep.feather_on;
    out.feather_off = sweep.feather_off;
    out.overrun = sweep.overrun;
    out.offset = sweep.offset;
    return out;
}

bool path_moves(const Pass& pass) {
    return std::any_of(pass.path.begin(), pass.path.end(),
                       [&](const Point& p) { return p != pass.path.front(); });
}

// What one coat needs of its own fields; true if nothing is missing.
bool check_coat(const Coat& coat, Diagnostics& diagnostics) {
    const std::size_t before = diagnostics.error_count();
    const bool sprayed = !coat.passes.empty() || !coat.sweeps.empty();
    if (!sprayed && !coat.cover)
        diagnostics.error("P006", coat.place, fmt::format("coat '{}' lays nothing", coat.name),
                          "add  cover.film = \"20 um\",  or [[coats.sweeps]] or [[coats.passes]]");
    if ((sprayed || coat.laydown == Laydown::fog) && coat.gun.value.empty())
        diagnostics.error("P007", coat.place, fmt::format("coat '{}' has no gun", coat.name),
                          "add  gun = \"...\"; fadewright presets guns lists them");
    for (const Pass& pass : coat.passes)
        if (path_moves(pass) == pass.dwell.has_value())
            diagnostics.error("P008", pass.place,
                              pass.dwell ? "the pass moves, so it cannot dwell" : "the pass does not move",
                              "give two different places, or one place and  dwell = \"1 s\"");
    for (const Sweep& sweep : coat.sweeps)
        if (sweep.from.x == sweep.to.x || sweep.from.y == sweep.to.y)
            diagnostics.error("P012", sweep.place, "the sweep's rectangle has no width or no height",
                              "give opposite corners in 'from' and 'to'");
    return diagnostics.error_count() == before;
}

void check_plan(const Plan& plan, Shelf& shelf, Diagnostics& diagnostics) {
    const double half_side = std::min(plan.panel.width.value, plan.panel.height.value) / 2;
    if (plan.panel.corner_radius.value > half_side)
        diagnostics.error(
            "P013", plan.panel.place,
            fmt::format("a corner radius of {} does not fit", to_text(plan.panel.corner_radius)),
            fmt::format("at most {}, half the shorter side", to_text(Millimetres{half_side})));
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
    Readying(const Plan& plan, Shelf& shelf, Diagnostics& diagnostics)
        : plan_(plan), shelf_(shelf), diagnostics_(diagnostics), mixes_(plan, shelf, diagnostics) {}

    void panel(Job& job) {
        job.panel = {plan_.panel.width, plan_.panel.height, plan_.panel.corner_radius};
        job.ground_name = plan_.panel.ground.value;
        const Ground* ground =
            looked_up("P004", ShelfKind::grounds, plan_.panel.ground,
                      [&](const std::string& n) { return shelf_.ground(n, diagnostics_); });
        if (!ground) return;
        job.ground = ground->inside;
        job.origin = std::max(job.origin, ground->origin);
    }

    void view(Job& job) {
        const colour::Light* light =
            looked_up("P005", ShelfKind::lights, plan_.view.light,
                      [&](const std::string& n) { return shelf_.light(n, diagnostics_); });
        if (light) job.light = *light;
        job.observer = plan_.view.observer == ObserverAngle::two ? colour::Observer::two_degree
                                                                 : colour::Observer::ten_degree;
        job.view_distance = plan_.view.distance;
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

    void add_coat(const Coat& coat, Job& job) {
        ReadyCoat ready;
        ready.name = coat.name;
        ready.mix_name = coat.mix.value;
        ready.laydown = coat.laydown;
        ready.gun_name = coat.gun.value;
        if (coat.cover) ready.cover = coat.cover->film;
        const bool sound = check_coat(coat, diagnostics_);
        const auto parts = mixes_.named(coat.mix);
        const ShelfGun* gun = nullptr;
        if (!coat.gun.value.empty())
            gun = looked_up("P003", ShelfKind::guns, coat.gun,
                            [&](const std::string& n) { return shelf_.gun(n, diagnostics_); });
        if (!parts || !sound || (!coat.gun.value.empty() && !gun)) return;
        if (!leaves_film(*parts, coat)) return;
        ready.mix = paint::mixed(*parts);
        job.origin = std::max(job.origin, ready.mix.origin);
        if (gun) spray_coat(coat, *gun, ready, job);
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
        spray::Gun gun = shelf_gun.gun;
        if (coat.flow) gun.flow = *coat.flow;
        ready.splat = paint::dry_film(ready.mix, spray::wet_splat(gun));
        std::vector<spray::Pass> passes;
        for (const Sweep& sweep : coat.sweeps) {
            const auto lines = spray::passes_of(to_spray(sweep, coat, shelf_gun.speed), gun);
            passes.insert(passes.end(), lines.begin(), lines.end());
            if (passes.size() > kMostPasses) break;
        }
        for (const Pass& pass : coat.passes) passes.push_back(to_spray(pass, coat, shelf_gun.speed));
        passes_ += passes.size();
        if (passes_ > kMostPasses) {
            diagnostics_.error("P014", coat.place,
                               fmt::format("more than {} passes up to this coat", kMostPasses),
                               "lower the overlap, or use a wider gun");
            return;
        }
        if (passes.empty()) return;
        for (const spray::Pass& pass : passes) note_finest(spray::finest_width(gun, pass), job);
        ready.deposit.emplace(gun, passes);
    }

    static void note_finest(Millimetres width, Job& job) {
        if (job.finest.value == 0 || width < job.finest) job.finest = width;
    }

    const Plan& plan_;
    Shelf& shelf_;
    Diagnostics& diagnostics_;
    MixResolver mixes_;
    std::size_t passes_ = 0;
};

}  // namespace

std::optional<Plan> read_plan(std::shared_ptr<const Source> source, Diagnostics& diagnostics) {
    const std::optional<ReadTree> tree = read_toml(std::move(source), diagnostics);
    if (!tree) return std::nullopt;
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

std::optional<Job> ready_job(const Plan& plan, const std::string& plan_text, Shelf& shelf,
                             Diagnostics& diagnostics) {
    const std::size_t before = diagnostics.error_count();
    Job job;
    job.title = plan.title;
    job.hash = sha256_hex(plan_text);
    check_plan(plan, shelf, diagnostics);
    Readying readying(plan, shelf, diagnostics);
    readying.panel(job);
    readying.view(job);
    readying.coats(job);
    if (diagnostics.error_count() != before) return std::nullopt;
    return job;
}

void ReadyCoat::add_film_um(std::span<const double> x_mm, std::span<const double> y_mm,
                            std::span<double> film_um) const {
    const double dry_share = paint::dry_per_wet(mix);
    for (std::size_t i = 0; i < film_um.size(); ++i) {
        film_um[i] += cover.value;
        if (deposit) film_um[i] += dry_share * deposit->wet_um(x_mm[i], y_mm[i]);
    }
}

double ReadyCoat::film_um(double x_mm, double y_mm) const {
    double film = 0;
    add_film_um({&x_mm, 1}, {&y_mm, 1}, {&film, 1});
    return film;
}

}  // namespace fadewright::plan
