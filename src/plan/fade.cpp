#include "fadewright/plan/fade.h"

#include "fade_on_road.h"
#include "fade_passes.h"
#include "fade_rules.h"
#include "fade_seen.h"
#include "fadewright/plan/job.h"
#include "mixes.h"
#include "names.h"
#include "shapes.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace fadewright::plan {
namespace {

constexpr std::size_t kMostCoats = 60, kMostMixes = 100;  // that a plan may have

std::string name_of_plan(const Plan& plan) {
    return plan.panel.place.source ? plan.panel.place.source->name() : "";
}

class Expanding {
public:
    Expanding(const Plan& plan, Shelf& shelf, Diagnostics& diagnostics)
        : shelf_(shelf), diagnostics_(diagnostics), plan_(plan), taken_(shelf.names(ShelfKind::paints)) {
        for (const Named<Mix>& mix : plan.mixes) taken_.push_back(mix.name);
    }

    Plan all() {
        std::vector<Coat> written;
        written.swap(plan_.coats);
        for (std::size_t i = 0; i < written.size(); ++i) {
            const Coat& coat = written[i];
            above_ = std::span(written).subspan(i + 1);
            if (!coat.fade) {
                plan_.coats.push_back(coat);
            } else if (!check_fade(coat, diagnostics_) || !expand(coat)) {
                leave_even_coats(coat);
            }
        }
        return std::move(plan_);
    }

private:
    // What is wrong with mixes, the panel and so on is reported when these coats are made ready.
    void leave_even_coats(const Coat& coat) {
        for (const Placed<std::string>* mix : {&coat.fade->from, &coat.fade->to})
            plan_.coats.push_back(even_coat(coat, *mix));
    }

    static Coat even_coat(const Coat& coat, const Placed<std::string>& mix) {
        Coat even;
        even.name = coat.name + ": " + mix.value;
        even.mix = mix;
        even.masks = coat.masks;
        even.cover = Cover{coat.fade->first_film.value_or(coat.fade->film)};
        even.place = coat.place;
        return even;
    }

    std::optional<spray::Outline> panel_outline() {
        const Panel& panel = plan_.panel;
        if (panel.outline) return drawn(*panel.outline, unsaid_);
        if (!panel.width || !panel.height) return std::nullopt;
        return spray::Outline::rectangle(*panel.width, *panel.height, panel.corner_radius);
    }

    std::optional<spray::Outline> drawn(const Shape& shape, Diagnostics& said) {
        ShapeReader reader(name_of_plan(plan_), shelf_, said);
        const std::optional<DrawnOutline> drawn = reader.read(shape);
        return drawn ? std::optional(drawn->outline) : std::nullopt;
    }

    bool expand(const Coat& coat) {
        const Fade& fade = *coat.fade;
        const std::optional<spray::Outline> panel = panel_outline();
        const std::optional<spray::Outline> rim = fade.shape ? drawn(*fade.shape, diagnostics_) : panel;
        if (!panel || !rim) return false;
        const FadeGround ground(fade, *panel, fade.inward ? &*rim : nullptr);
        const Grades grades = grades_of(fade, coat.name, ground.width_mm(), taken_);
        const std::optional<std::vector<SetGun>> guns = guns_of(coat, grades);
        if (!guns || !wide_enough(coat, grades, ground, *guns)) return false;

        Plan with;
        with.mixes = plan_.mixes;
        with.mixes.insert(with.mixes.end(), grades.mixes.begin(), grades.mixes.end());
        MixResolver mixes(with, shelf_, unsaid_);
        std::optional<std::vector<Coat>> coats = fade.ramp == Ramp::road
                                                     ? on_road(coat, grades, *guns, ground, mixes)
                                                     : one_by_one(coat, grades, *guns, ground, mixes);
        if (!coats) return false;
        if (fade.lay_first) {
            coats->insert(coats->begin(), even_coat(coat, {grades.first, fade.place}));
            coats->front().gun = coat.gun;
        }
        return take(coat, std::move(with.mixes), *coats);
    }

    std::optional<std::vector<Coat>> one_by_one(const Coat& coat, const Grades& grades,
                                                const std::vector<SetGun>& guns, const FadeGround& ground,
                                                MixResolver& mixes) {
        std::vector<Coat> coats;
        for (std::size_t i = 0; i < grades.grades.size(); ++i) {
            const Grade& grade = grades.grades[i];
            const std::optional<paint::MixedPaint> mix = mixed(grade.mix, coat.fade->place, mixes);
            const std::optional<Growth> growth = growth_of(grade, *coat.fade, mix, mixes);
            if (!growth) return std::nullopt;
            std::optional<Coat> graded =
                graded_coat(coat, grade, *growth, guns[i], ground, paint::dry_per_wet(*mix), diagnostics_);
            if (!graded) return std::nullopt;
            coats.push_back(std::move(*graded));
        }
        return coats;
    }

    std::optional<std::vector<Coat>> on_road(const Coat& coat, const Grades& grades,
                                             const std::vector<SetGun>& guns, const FadeGround& ground,
                                             MixResolver& mixes) {
        const Fade& fade = *coat.fade;
        const ShelfLook look = shelf_look();
        const std::optional<paint::MixedPaint> first = mixed(grades.first, fade.place, mixes);
        if (!look.light || !look.ground || !first) return std::nullopt;
        std::vector<film::StackColour::Coat> stack;
        add_covers(plan_.coats, mixes, stack);
        stack.push_back({*first, fade.first_film.value_or(fade.film)});
        std::vector<double> dry;
        for (const Grade& grade : grades.grades) {
            const std::optional<paint::MixedPaint> mix = mixed(grade.mix, fade.place, mixes);
            if (!mix) return std::nullopt;
            stack.push_back({*mix, std::nullopt});
            dry.push_back(paint::dry_per_wet(*mix));
        }
        add_covers(above_, mixes, stack);
        const bool matt = plan_.view.surface == Surface::matt;
        const double shine = matt ? 1 : stack.back().film ? stack.back().mix.flatting.value : 0;
        const film::StackColour colours(look.ground->inside, std::move(stack),
                                        {looker(*look.light), plan_.view.angle, shine});
        if (!has_road(grades, colours)) return one_by_one(coat, grades, guns, ground, mixes);
        return coats_on_road({coat, grades, guns, ground, colours, std::move(dry), plan_.view.distance},
                             diagnostics_);
    }

    // Even films; what is sprayed below or above a fade is not reckoned with.
    static void add_covers(std::span<const Coat> coats, MixResolver& mixes,
                           std::vector<film::StackColour::Coat>& stack) {
        for (const Coat& coat : coats) {
            if (!coat.cover) continue;
            if (const auto mix = mixed(coat.mix.value, coat.place, mixes))
                stack.push_back({*mix, coat.cover->film});
        }
    }

    struct ShelfLook {
        const colour::Light* light;
        const Ground* ground;
    };
    ShelfLook shelf_look() {
        return {shelf_.light(plan_.view.light.value, unsaid_),
                shelf_.ground(plan_.panel.ground.value, unsaid_)};
    }

    [[nodiscard]] film::Looker looker(const colour::Light& light) const {
        return film::Looker(light, plan_.view.observer == ObserverAngle::two ? colour::Observer::two_degree
                                                                             : colour::Observer::ten_degree);
    }

    // Nothing for a mix that cannot be made or leaves nothing: found when the coats are made ready.
    static std::optional<paint::MixedPaint> mixed(const std::string& name, const Place& place,
                                                  MixResolver& mixes) {
        const std::optional<Parts> parts = mixes.named({name, place});
        if (!parts) return std::nullopt;
        const paint::MixedPaint mix = paint::mixed(*parts);
        return mix.solids.value > 0 ? std::optional(mix) : std::nullopt;
    }

    std::optional<Growth> growth_of(const Grade& grade, const Fade& fade,
                                    const std::optional<paint::MixedPaint>& mix, MixResolver& mixes) {
        if (!mix) return std::nullopt;
        if (fade.ramp != Ramp::seen) return Growth(fade.ramp);
        if (grade.below.empty()) return Growth(Ramp::even);
        const colour::Light* light = shelf_.light(plan_.view.light.value, unsaid_);
        const std::optional<paint::MixedPaint> below = mixed(grade.below, fade.place, mixes);
        if (!light || !below) return std::nullopt;
        return seen_growth(*mix, grade.film, *below, looker(*light));
    }

    bool take(const Coat& coat, std::vector<Named<Mix>> mixes, const std::vector<Coat>& coats) {
        if (plan_.coats.size() + coats.size() > kMostCoats || mixes.size() > kMostMixes) {
            diagnostics_.error(
                "P030", coat.fade->place,
                fmt::format("more than {} coats or {} mixes up to this fade", kMostCoats, kMostMixes),
                "use fewer middles or steps");
            return false;
        }
        for (std::size_t i = plan_.mixes.size(); i < mixes.size(); ++i) taken_.push_back(mixes[i].name);
        plan_.mixes = std::move(mixes);
        plan_.coats.insert(plan_.coats.end(), coats.begin(), coats.end());
        return true;
    }

    std::optional<std::vector<SetGun>> guns_of(const Coat& coat, const Grades& grades) {
        const Fade& fade = *coat.fade;
        if (!fade.guns.empty() && fade.guns.size() != grades.grades.size()) {
            diagnostics_.error(
                "P029", fade.place,
                fmt::format("{} guns for {} graded coats", fade.guns.size(), grades.grades.size()),
                "give one for each, or leave them out and give the coat a gun");
            return std::nullopt;
        }
        std::vector<SetGun> guns;
        for (std::size_t i = 0; i < grades.grades.size(); ++i) {
            const Placed<std::string>& name = fade.guns.empty() ? coat.gun : fade.guns[i];
            const std::size_t before = diagnostics_.error_count();
            const ShelfGun* gun = shelf_.gun(name.value, diagnostics_);
            if (!gun) {
                if (diagnostics_.error_count() == before)
                    report_unknown("P003", "gun", name, shelf_.names(ShelfKind::guns), diagnostics_);
                return std::nullopt;
            }
            guns.push_back(set_gun(coat, name, *gun));
        }
        return guns;
    }

    bool wide_enough(const Coat& coat, const Grades& grades, const FadeGround& ground,
                     const std::vector<SetGun>& guns) {
        const Fade& fade = *coat.fade;
        double narrowest = 0;
        std::string by;
        for (const SetGun& set : guns) {
            const double width =
                edge_mm(coat, set, tilt_of(fade)) / ten_to_ninety(fade.ramp) / grades.ramp_share;
            if (width > narrowest) by = set.name.value;
            narrowest = std::max(narrowest, width);
        }
        if (ground.width_mm() >= narrowest) return true;
        const ShownUnits units = diagnostics_.units();
        diagnostics_.error("P028", fade.place,
                           fmt::format("'{}' makes no such fade narrower than {}; this one is {} wide", by,
                                       units.as_given(Millimetres{std::ceil(narrowest)}),
                                       units.as_given(Millimetres{std::round(10 * ground.width_mm()) / 10})),
                           "make it wider, hold the gun nearer, or take a gun with a smaller pattern");
        return false;
    }

    Shelf& shelf_;
    Diagnostics& diagnostics_;
    Diagnostics unsaid_;  // found again when the coats are made ready
    Plan plan_;
    std::span<const Coat> above_;     // of the fade being worked out
    std::vector<std::string> taken_;  // names of mixes and paints
};

}  // namespace

Plan without_fades(const Plan& plan, Shelf& shelf, Diagnostics& diagnostics) {
    return Expanding(plan, shelf, diagnostics).all();
}

std::optional<Plan> expanded_plan(const Plan& plan, Shelf& shelf, Diagnostics& diagnostics) {
    const std::size_t before = diagnostics.error_count();
    Plan expanded = without_fades(plan, shelf, diagnostics);
    // Whatever kept a fade from being worked out is wrong with its mixes or the panel, and found here.
    if (diagnostics.error_count() == before) (void)ready_job(expanded, "", shelf, diagnostics);
    if (diagnostics.error_count() != before) return std::nullopt;
    return expanded;
}

std::optional<Millimetres> softest_edge(const Coat& coat, const std::string& gun, Degrees tilt,
                                        Shelf& shelf) {
    Diagnostics unsaid;
    const ShelfGun* found = shelf.gun(gun, unsaid);
    if (!found) return std::nullopt;
    return Millimetres{edge_mm(coat, set_gun(coat, {gun, {}}, *found), tilt)};
}

}  // namespace fadewright::plan
