#include "fadewright/render/repair.h"

#include "fadewright/base/contract.h"
#include "fadewright/colour/delta_e.h"
#include "fadewright/colour/visibility.h"
#include "fadewright/plan/quantities.h"
#include "fadewright/render/spectra.h"
#include "repair_batch.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace fadewright::render {
namespace {

constexpr double kThere_um = 0.1;  // less of a coat is not there

// dL* of one dE00 at that lightness: CIEDE2000 itself, over a small step about it.
double lightness_of_one(double L) {
    constexpr double half = 0.01;
    return 2 * half / colour::delta_e_2000({L - half, 0, 0}, {L + half, 0, 0});
}

double contrast_of(double dE00, double L) {
    const double at = std::max(L, 1.0);  // blacker than that there is no telling
    return colour::contrast_of_lightness_step(at, dE00 * lightness_of_one(at));
}

CoatKind kind_of(const plan::ReadyCoat& coat, const std::vector<paint::Part>& parts, double L_beneath,
                 bool flakes_beneath) {
    bool colour = false, see_through = true;
    for (const paint::Part& part : parts) {
        const paint::Role role = part.paint->role;
        if (part.parts <= 0 || role == paint::Role::reducer || role == paint::Role::clear ||
            role == paint::Role::clear_base)
            continue;
        colour = true;
        see_through = see_through && role == paint::Role::transparent;
    }
    if (!coat.mix.flakes.empty()) return CoatKind::effect;
    if (!colour || coat.clear) return CoatKind::clear;
    if (!see_through) return CoatKind::solid;
    return L_beneath >= kBright || flakes_beneath ? CoatKind::candy : CoatKind::see_through;
}

// The job as it is in one place, each coat an even film: what a change of one film does is asked of it.
class OnePlace {
public:
    OnePlace(plan::Job job, const plan::Point& at, const std::vector<double>& films)
        : job_(std::move(job)), at_(at) {
        for (std::size_t i = 0; i < job_.coats.size(); ++i) {
            plan::ReadyCoat& coat = job_.coats[i];
            coat.deposit.reset();
            coat.masks.clear();
            coat.cover = Micrometres{films[i]};
        }
    }

    [[nodiscard]] colour::Lab lab(std::size_t coats) const { return lab_of(job_, coats); }
    [[nodiscard]] colour::Lab lab() const { return lab(job_.coats.size()); }

    // dE00 that so much of its film instead of all makes.
    [[nodiscard]] double film_changed(std::size_t coat, double to) const {
        plan::Job changed = job_;
        changed.coats[coat].cover = to * job_.coats[coat].cover;
        return colour::delta_e_2000(lab(), lab_of(changed, changed.coats.size()));
    }

    // Those coats once more over the finished colour, under the last clears: from all of their films to nothing.
    // reach: to which share of the fade each of them goes. dE00 at the worst.
    [[nodiscard]] double lapped(const std::vector<std::size_t>& coats,
                                const std::vector<double>& reach) const {
        constexpr int kSteps = 48;
        plan::Job changed = job_;
        std::size_t top = changed.coats.size();
        while (top > 0 && changed.coats[top - 1].clear) --top;
        for (std::size_t k = 0; k < coats.size(); ++k)
            changed.coats.insert(changed.coats.begin() + static_cast<std::ptrdiff_t>(top + k),
                                 job_.coats[coats[k]]);
        double furthest = 0;
        const colour::Lab old = lab();
        for (int step = 0; step <= kSteps; ++step) {
            const double s = static_cast<double>(step) / kSteps;
            for (std::size_t k = 0; k < coats.size(); ++k)
                changed.coats[top + k].cover = std::max(0.0, 1 - s / reach[k]) * job_.coats[coats[k]].cover;
            furthest = std::max(furthest, colour::delta_e_2000(old, lab_of(changed, changed.coats.size())));
        }
        return furthest;
    }

private:
    [[nodiscard]] colour::Lab lab_of(const plan::Job& job, std::size_t coats) const {
        const SeenJob seen(job, job.light, coats);
        const double x = at_.x.value, y = at_.y.value;
        colour::XYZ xyz;
        seen.xyz({&x, 1}, {&y, 1}, {&xyz, 1});
        return colour::to_lab(xyz, seen.white());
    }

    plan::Job job_;
    plan::Point at_;
};

class Repairing {
public:
    Repairing(const plan::Plan& plan, const plan::Job& job, plan::Shelf& shelf,
              const plan::RecordFile* record, const RepairAsked& asked)
        : plan_(plan), planned_(job), job_(job), shelf_(shelf), record_(record) {
        out_.asked = asked;
    }

    Repair repaired() {
        take_recipes();
        take_films();
        const OnePlace place(job_, out_.asked.at, films_);
        out_.lab = place.lab();
        take_coats(place);
        take_fade(place);
        const plan::Amounts amounts = plan::amounts_of(plan_, job_, shelf_);
        for (RepairCoat& coat : out_.coats) take_paint(coat, amounts.coats[coat.index]);
        out_.mixes = repair_mixes(out_.coats, job_, recipes_, plan_.mixing);
        return std::move(out_);
    }

private:
    // Every mix as it was poured, else as planned; the coats become those mixes.
    void take_recipes() {
        for (plan::ReadyCoat& coat : job_.coats) {
            auto known = recipes_.find(coat.mix_name);
            if (known == recipes_.end()) {
                Diagnostics unsaid;
                const auto planned = plan::parts_of(plan_, {coat.mix_name, {}}, shelf_, unsaid);
                FW_EXPECTS(planned.has_value());  // the job is ready
                RepairRecipe recipe{*planned, "", false};
                const auto poured =
                    record_ ? plan::recorded_mix(*record_, plan_, coat.mix_name, shelf_, out_.remarks)
                            : std::nullopt;
                const bool leaves_film = poured && paint::mixed(poured->parts).solids.value > 0;
                if (leaves_film) recipe = {poured->parts, poured->date, poured->reducer_as_planned};
                known = recipes_.emplace(coat.mix_name, std::move(recipe)).first;
            }
            coat.mix = paint::mixed(known->second.parts);
        }
    }

    // At the place: as planned, in the measure of what was read.
    void take_films() {
        const plan::Point& at = out_.asked.at;
        for (const plan::ReadyCoat& coat : planned_.coats) {
            const auto read = record_ ? plan::recorded_film(*record_, planned_, coat) : std::nullopt;
            read_.push_back(read.value_or(plan::RecordedFilm{}));
            films_.push_back(read_.back().of_planned * coat.film_um(at.x.value, at.y.value));
        }
    }

    void take_coats(const OnePlace& place) {
        bool flakes_beneath = false;
        for (std::size_t i = 0; i < job_.coats.size(); ++i) {
            if (films_[i] < kThere_um) continue;
            const plan::ReadyCoat& ready = job_.coats[i];
            RepairCoat coat;
            coat.name = ready.name;
            coat.mix = ready.mix_name;
            coat.index = i;
            coat.film = Micrometres{films_[i]};
            coat.readings = read_[i].readings;
            take_range(coat);
            coat.kind = kind_of(ready, recipes_.at(ready.mix_name).parts, place.lab(i).L, flakes_beneath);
            flakes_beneath = flakes_beneath || coat.kind == CoatKind::effect;
            const double error = out_.asked.film_error.value;
            coat.film_dE = std::max(place.film_changed(i, 1 - error), place.film_changed(i, 1 + error));
            out_.coats.push_back(coat);
        }
    }

    // Films over the damage: in its middle and around its rim.
    void take_range(RepairCoat& coat) {
        constexpr int kAround = 16;
        coat.least = coat.most = coat.film;
        for (int i = 0; i < kAround; ++i) {
            const double angle = 2 * std::numbers::pi * i / kAround, r = 0.5 * out_.asked.across.value;
            const double x = out_.asked.at.x.value + r * std::cos(angle);
            const double y = out_.asked.at.y.value + r * std::sin(angle);
            if (!job_.panel.inside(x, y)) continue;
            const Micrometres film{read_[coat.index].of_planned * planned_.coats[coat.index].film_um(x, y)};
            coat.least = std::min(coat.least, film);
            coat.most = std::max(coat.most, film);
        }
    }

    static bool is_faded(const RepairCoat& coat) {
        return coat.kind == CoatKind::solid || coat.kind == CoatKind::see_through;
    }

    // How far the faded coats reach, as shares of the fade, in whichever way laps less.
    std::vector<double> take_lap(const OnePlace& place) {
        std::vector<std::size_t> coats;
        bool veiled = false;
        for (const RepairCoat& coat : out_.coats) {
            if (is_faded(coat)) coats.push_back(coat.index);
            veiled = veiled || coat.kind == CoatKind::candy || coat.kind == CoatKind::effect;
        }
        std::vector<double> alike(coats.size(), 1.0);
        std::vector<double> stepped;
        for (std::size_t k = 0; k < coats.size(); ++k)
            stepped.push_back(static_cast<double>(k + 1) / static_cast<double>(coats.size()));
        if (veiled || coats.empty()) return alike;
        const double of_alike = place.lapped(coats, alike), of_stepped = place.lapped(coats, stepped);
        out_.stepped = of_stepped < of_alike;
        out_.lap_dE = std::min(of_stepped, of_alike);
        return out_.stepped ? stepped : alike;
    }

    void take_fade(const OnePlace& place) {
        const plan::Point& at = out_.asked.at;
        const std::vector<double> reach = take_lap(place);
        double squares = 0;
        for (const RepairCoat& coat : out_.coats) squares += coat.film_dE * coat.film_dE;
        out_.dE = out_.asked.mismatch + std::sqrt(squares);
        out_.contrast = contrast_of(out_.dE + out_.lap_dE, out_.lab.L);
        out_.fade = unseen_fade(out_.dE + out_.lap_dE, out_.lab.L, job_.view_distance);
        out_.to_edge = Millimetres{-job_.panel.signed_distance_mm(at.x.value, at.y.value)};
        out_.to_far = Millimetres{std::hypot(std::max(at.x.value, job_.panel.width.value - at.x.value),
                                             std::max(at.y.value, job_.panel.height.value - at.y.value))};
        out_.fits = 0.5 * out_.asked.across + out_.fade <= out_.to_far;
        std::size_t k = 0;
        for (RepairCoat& coat : out_.coats) {
            coat.touch = is_faded(coat) && out_.fits ? Touch::spot : Touch::panel;
            if (is_faded(coat)) coat.reach = reach[k++] * out_.fade;
        }
    }

    // A spot loses what its gun loses in the air; a whole panel what the plan loses.
    void take_paint(RepairCoat& coat, const plan::CoatAmounts& planned) const {
        const double landed = planned.landed.value, sprayed = planned.sprayed().value;
        const double as_read = read_[coat.index].of_planned;
        const double whole = as_read * landed;
        if (coat.touch == Touch::panel) {
            coat.landed = Millilitres{whole};
            coat.lost = as_read * planned.lost();
            return;
        }
        const double solids = job_.coats[coat.index].mix.solids.value;
        const double spot = spot_paint(coat.film, out_.asked.across, coat.reach).value / solids;
        coat.landed = Millilitres{spot};
        const double in_air = sprayed > 0 ? planned.in_air.value / sprayed : 0;
        coat.lost = Millilitres{spot / (1 - in_air) - spot};
    }

    const plan::Plan& plan_;
    const plan::Job& planned_;
    plan::Job job_;  // with its mixes as they were poured
    plan::Shelf& shelf_;
    const plan::RecordFile* record_;
    Repair out_;
    Recipes recipes_;
    std::vector<plan::RecordedFilm> read_;
    std::vector<double> films_;
};

}  // namespace

Millimetres unseen_fade(double dE00, double L, Millimetres view_distance) {
    const double contrast = contrast_of(dE00, L);
    if (contrast <= colour::least_step()) return {};
    return contrast / colour::least_slope_per_deg() * colour::millimetres_per_degree(view_distance);
}

Millilitres spot_paint(Micrometres film, Millimetres across, Millimetres reach) {
    const double r = 0.5 * across.value, w = reach.value;
    const double area_mm2 = std::numbers::pi * (r * r + w * (r + w / 3));
    return spray::paint_in_film(film, area_mm2 / 1e6);
}

Repair repair(const plan::Plan& plan, const plan::Job& job, plan::Shelf& shelf,
              const plan::RecordFile* record, const RepairAsked& asked) {
    FW_EXPECTS(job.panel.inside(asked.at.x.value, asked.at.y.value));
    return Repairing(plan, job, shelf, record, asked).repaired();
}

}  // namespace fadewright::render
