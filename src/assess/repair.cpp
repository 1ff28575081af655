#include "fadewright/assess/repair.h"

#include "fadewright/base/contract.h"
#include "fadewright/colour/delta_e.h"
#include "fadewright/colour/visibility.h"
#include "fadewright/plan/mix_resolver.h"
#include "fadewright/production/coverage.h"
#include "fadewright/render/panel_shader.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>

namespace fadewright::assess {
namespace {

struct RepairRecipe {
    std::vector<paint::Part> parts;
    std::string mixed_on;
    bool reducer_as_planned = false;
};
using Recipes = std::map<std::string, RepairRecipe>;

constexpr std::int64_t kMaxBatch_mL = 5000;

// A spray-out card sprayed first, with its overspray.
Millilitres card_paint(const RepairCoat& coat, const plan::Job& job, const plan::ShopSettings& mixing) {
    const double sprayed = coat.landed.value + coat.lost.value;
    const Share transfer_efficiency{sprayed > 0 ? coat.landed.value / sprayed : 1};
    return production::spray_volume(mixing.card_area_m2(), coat.film, job.coats[coat.index].mix.solids,
                                    transfer_efficiency);
}

std::vector<paint::Part> used_parts(const std::vector<paint::Part>& parts) {
    std::vector<paint::Part> used;
    for (const paint::Part& part : parts)
        if (part.parts > 0) used.push_back(part);
    return used;
}

// Batches in whole millilitres, at least as much as needed, in which the scale can weigh every part.
std::vector<RepairMix> repair_mixes(const std::vector<RepairCoat>& coats, const plan::Job& job,
                                    const Recipes& recipes, const plan::ShopSettings& mixing) {
    std::vector<RepairMix> mixes;
    for (const RepairCoat& coat : coats) {
        auto mix =
            std::find_if(mixes.begin(), mixes.end(), [&](const RepairMix& m) { return m.name == coat.mix; });
        if (mix == mixes.end()) {
            mix = mixes.emplace(mixes.end());
            mix->name = coat.mix;
            mix->left_in_gun = mixing.left_in_gun;  // the gun is filled once
        }
        mix->coats.push_back(coat.name);
        mix->landed = mix->landed + coat.landed;
        mix->lost = mix->lost + coat.lost;
        mix->cards = mix->cards + card_paint(coat, job, mixing);
    }
    for (RepairMix& mix : mixes) {
        const RepairRecipe& recipe = recipes.at(mix.name);
        mix.mixed_on = recipe.mixed_on;
        mix.reducer_as_planned = recipe.reducer_as_planned;
        mix.waste = mixing.waste.value * mix.needed();
        const std::vector<paint::Part> parts = used_parts(recipe.parts);
        const std::int64_t needed_mL = std::llround(std::max(1.0, std::ceil(mix.needed().value)));
        mix.to_mix = production::smallest_weighable_batch(parts, {Millilitres{1}, needed_mL, kMaxBatch_mL},
                                                          mixing.scale);
        mix.raised_for_scale = mix.to_mix.value > std::ceil(mix.needed().value);
        mix.recipe_lines = production::weigh_out(parts, mix.to_mix, mixing.scale);
    }
    return mixes;
}

constexpr double kMinFilm_um = 0.1;  // a thinner coat does not count

// dL* of one dE00 at that lightness: CIEDE2000 itself, over a small step about it.
double lightness_per_dE(double L) {
    constexpr double half = 0.01;
    return 2 * half / colour::delta_e_2000({L - half, 0, 0}, {L + half, 0, 0});
}

double contrast_from_dE(double dE00, double L) {
    const double at = std::max(L, 1.0);  // darker colours count as this dark
    return colour::contrast_of_lightness_step(at, dE00 * lightness_per_dE(at));
}

CoatKind kind_of(const plan::ResolvedCoat& coat, const std::vector<paint::Part>& parts, double L_beneath,
                 bool flakes_beneath) {
    bool colour = false, transparent = true;
    for (const paint::Part& part : parts) {
        const paint::Role role = part.paint->role;
        if (part.parts <= 0 || role == paint::Role::reducer || role == paint::Role::clear ||
            role == paint::Role::clear_base)
            continue;
        colour = true;
        transparent = transparent && role == paint::Role::transparent;
    }
    if (!coat.mix.flakes.empty()) return CoatKind::effect;
    if (!colour || coat.clear) return CoatKind::clear;
    if (!transparent) return CoatKind::solid;
    return L_beneath >= kBrightGround_L || flakes_beneath ? CoatKind::candy : CoatKind::transparent;
}

// The job at one point, each coat as an even film, to calculate the effect of a changed film.
class PointModel {
public:
    PointModel(plan::Job job, const plan::Point& at, const std::vector<double>& films)
        : job_(std::move(job)), point_(at) {
        for (std::size_t i = 0; i < job_.coats.size(); ++i) {
            plan::ResolvedCoat& coat = job_.coats[i];
            coat.deposit.reset();
            coat.masks.clear();
            coat.even_film = Micrometres{films[i]};
        }
    }

    [[nodiscard]] colour::Lab lab(std::size_t coats) const { return lab_of(job_, coats); }
    [[nodiscard]] colour::Lab lab() const { return lab(job_.coats.size()); }

    // dE00 if the film of a coat is multiplied by `to`.
    [[nodiscard]] double film_change_dE(std::size_t coat, double to) const {
        plan::Job changed = job_;
        changed.coats[coat].even_film = to * job_.coats[coat].even_film;
        return colour::delta_e_2000(lab(), lab_of(changed, changed.coats.size()));
    }

    // Maximum dE00 where those coats run out over the finished colour, under the last clears: from their full
    // films to nothing. fade_width: share of the blend width that each of them reaches.
    [[nodiscard]] double lap_dE(const std::vector<std::size_t>& coats,
                                const std::vector<double>& fade_width) const {
        constexpr int kSteps = 48;
        plan::Job changed = job_;
        std::size_t top = changed.coats.size();
        while (top > 0 && changed.coats[top - 1].clear) --top;
        for (std::size_t k = 0; k < coats.size(); ++k)
            changed.coats.insert(changed.coats.begin() + static_cast<std::ptrdiff_t>(top + k),
                                 job_.coats[coats[k]]);
        double worst = 0;
        const colour::Lab old = lab();
        for (int step = 0; step <= kSteps; ++step) {
            const double s = static_cast<double>(step) / kSteps;
            for (std::size_t k = 0; k < coats.size(); ++k)
                changed.coats[top + k].even_film =
                    std::max(0.0, 1 - s / fade_width[k]) * job_.coats[coats[k]].even_film;
            worst = std::max(worst, colour::delta_e_2000(old, lab_of(changed, changed.coats.size())));
        }
        return worst;
    }

private:
    [[nodiscard]] colour::Lab lab_of(const plan::Job& job, std::size_t coats) const {
        const render::PanelShader shader(job, job.light, coats);
        const double x = point_.x.value, y = point_.y.value;
        colour::XYZ xyz;
        shader.xyz({&x, 1}, {&y, 1}, {&xyz, 1});
        return colour::to_lab(xyz, shader.white());
    }

    plan::Job job_;
    plan::Point point_;
};

class RepairBuilder {
public:
    RepairBuilder(const plan::Plan& plan, const plan::Job& job, plan::Library& library,
                  const production::JobLog* record, const RepairRequest& request)
        : plan_(plan), planned_(job), job_(job), library_(library), record_(record) {
        out_.request = request;
    }

    Repair build() {
        resolve_recipes();
        estimate_films();
        const PointModel model(job_, out_.request.point, films_);
        out_.lab = model.lab();
        add_coats(model);
        size_fade(model);
        const production::Amounts amounts = production::amounts_of(plan_, job_, library_);
        for (RepairCoat& coat : out_.coats) size_paint(coat, amounts.coats[coat.index]);
        out_.mixes = repair_mixes(out_.coats, job_, recipes_, plan_.mixing);
        return std::move(out_);
    }

private:
    // Every mix as in the job log, or as planned; the coats become those mixes.
    void resolve_recipes() {
        for (plan::ResolvedCoat& coat : job_.coats) {
            auto existing = recipes_.find(coat.mix_name);
            if (existing == recipes_.end()) {
                const auto planned = plan::parts_of(plan_, {coat.mix_name, {}}, library_);
                FW_EXPECTS(planned.has_value());  // the job is resolved
                RepairRecipe recipe{*planned, "", false};
                const auto recorded = record_ ? production::actual_mix(*record_, plan_, coat.mix_name,
                                                                       library_, out_.unknown_parts)
                                              : std::nullopt;
                const bool leaves_film = recorded && paint::mix_paints(recorded->parts).solids.value > 0;
                if (leaves_film) recipe = {recorded->parts, recorded->date, recorded->reducer_as_planned};
                existing = recipes_.emplace(coat.mix_name, std::move(recipe)).first;
            }
            coat.mix = paint::mix_paints(existing->second.parts);
        }
    }

    // At the point: as planned, scaled by the measured films.
    void estimate_films() {
        const plan::Point& at = out_.request.point;
        for (const plan::ResolvedCoat& coat : planned_.coats) {
            const auto measured = record_ ? production::actual_film(*record_, planned_, coat) : std::nullopt;
            readings_.push_back(measured.value_or(production::ActualFilm{}));
            films_.push_back(readings_.back().share_of_planned * coat.film_um(at.x.value, at.y.value));
        }
    }

    void add_coats(const PointModel& model) {
        bool flakes_beneath = false;
        for (std::size_t i = 0; i < job_.coats.size(); ++i) {
            if (films_[i] < kMinFilm_um) continue;
            const plan::ResolvedCoat& resolved = job_.coats[i];
            RepairCoat coat;
            coat.name = resolved.name;
            coat.mix = resolved.mix_name;
            coat.index = i;
            coat.film = Micrometres{films_[i]};
            coat.readings = readings_[i].readings;
            find_film_range(coat);
            coat.kind =
                kind_of(resolved, recipes_.at(resolved.mix_name).parts, model.lab(i).L, flakes_beneath);
            flakes_beneath = flakes_beneath || coat.kind == CoatKind::effect;
            const double error = out_.request.film_error.value;
            coat.film_dE = std::max(model.film_change_dE(i, 1 - error), model.film_change_dE(i, 1 + error));
            out_.coats.push_back(coat);
        }
    }

    // Films over the damage: at its centre and around its edge.
    void find_film_range(RepairCoat& coat) {
        constexpr int kRimPoints = 16;
        coat.min_film = coat.max_film = coat.film;
        for (int i = 0; i < kRimPoints; ++i) {
            const double angle = 2 * std::numbers::pi * i / kRimPoints, r = 0.5 * out_.request.diameter.value;
            const double x = out_.request.point.x.value + r * std::cos(angle);
            const double y = out_.request.point.y.value + r * std::sin(angle);
            if (!job_.panel.inside(x, y)) continue;
            const Micrometres film{readings_[coat.index].share_of_planned *
                                   planned_.coats[coat.index].film_um(x, y)};
            coat.min_film = std::min(coat.min_film, film);
            coat.max_film = std::max(coat.max_film, film);
        }
    }

    static bool is_faded(const RepairCoat& coat) {
        return coat.kind == CoatKind::solid || coat.kind == CoatKind::transparent;
    }

    // Reach of the faded coats, as shares of the blend width, with the smaller lap.
    std::vector<double> choose_fade_widths(const PointModel& model) {
        std::vector<std::size_t> coats;
        bool covered = false;
        for (const RepairCoat& coat : out_.coats) {
            if (is_faded(coat)) coats.push_back(coat.index);
            covered = covered || coat.kind == CoatKind::candy || coat.kind == CoatKind::effect;
        }
        std::vector<double> even(coats.size(), 1.0);
        std::vector<double> stepped;
        for (std::size_t k = 0; k < coats.size(); ++k)
            stepped.push_back(static_cast<double>(k + 1) / static_cast<double>(coats.size()));
        if (covered || coats.empty()) return even;
        const double even_lap = model.lap_dE(coats, even), stepped_lap = model.lap_dE(coats, stepped);
        out_.stepped = stepped_lap < even_lap;
        out_.lap_dE = std::min(stepped_lap, even_lap);
        return out_.stepped ? stepped : even;
    }

    void size_fade(const PointModel& model) {
        const plan::Point& at = out_.request.point;
        const std::vector<double> fade_width = choose_fade_widths(model);
        double squares = 0;
        for (const RepairCoat& coat : out_.coats) squares += coat.film_dE * coat.film_dE;
        out_.dE = out_.request.mismatch + std::sqrt(squares);
        out_.contrast = contrast_from_dE(out_.dE + out_.lap_dE, out_.lab.L);
        out_.fade_width = invisible_fade_width(out_.dE + out_.lap_dE, out_.lab.L, job_.view_distance);
        out_.nearest_edge = Millimetres{-job_.panel.signed_distance_mm(at.x.value, at.y.value)};
        out_.farthest_edge =
            Millimetres{std::hypot(std::max(at.x.value, job_.panel.width.value - at.x.value),
                                   std::max(at.y.value, job_.panel.height.value - at.y.value))};
        out_.fits = 0.5 * out_.request.diameter + out_.fade_width <= out_.farthest_edge;
        std::size_t k = 0;
        for (RepairCoat& coat : out_.coats) {
            coat.extent = is_faded(coat) && out_.fits ? Extent::spot : Extent::panel;
            if (is_faded(coat)) coat.fade_width = fade_width[k++] * out_.fade_width;
        }
    }

    // A spot loses the overspray in the air; a whole panel loses as much as planned.
    void size_paint(RepairCoat& coat, const production::CoatAmounts& planned) const {
        const double landed = planned.on_panel.value, sprayed = planned.sprayed().value;
        const double film_ratio = readings_[coat.index].share_of_planned;
        const double panel_mL = film_ratio * landed;
        if (coat.extent == Extent::panel) {
            coat.landed = Millilitres{panel_mL};
            coat.lost = film_ratio * planned.lost();
            return;
        }
        const double solids = job_.coats[coat.index].mix.solids.value;
        const double spot_mL = spot_paint(coat.film, out_.request.diameter, coat.fade_width).value / solids;
        coat.landed = Millilitres{spot_mL};
        const double in_air = sprayed > 0 ? planned.overspray.value / sprayed : 0;
        coat.lost = Millilitres{spot_mL / (1 - in_air) - spot_mL};
    }

    const plan::Plan& plan_;
    const plan::Job& planned_;
    plan::Job job_;  // with its mixes as in the job log
    plan::Library& library_;
    const production::JobLog* record_;
    Repair out_;
    Recipes recipes_;
    std::vector<production::ActualFilm> readings_;
    std::vector<double> films_;
};

}  // namespace

Millimetres invisible_fade_width(double dE00, double L, Millimetres view_distance) {
    const double contrast = contrast_from_dE(dE00, L);
    if (contrast <= colour::threshold_step()) return {};
    return contrast / colour::threshold_slope_per_deg() * colour::millimetres_per_degree(view_distance);
}

Millilitres spot_paint(Micrometres film, Millimetres diameter, Millimetres fade_width) {
    const double r = 0.5 * diameter.value, w = fade_width.value;
    const double area_mm2 = std::numbers::pi * (r * r + w * (r + w / 3));
    return spray::paint_in_film(film, area_mm2 / 1e6);
}

Repair repair(const plan::Plan& plan, const plan::Job& job, plan::Library& library,
              const production::JobLog* record, const RepairRequest& request) {
    FW_EXPECTS(job.panel.inside(request.point.x.value, request.point.y.value));
    return RepairBuilder(plan, job, library, record, request).build();
}

}  // namespace fadewright::assess
