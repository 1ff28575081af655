#include "fadewright/plan/fade.h"

#include "fade_passes.h"
#include "fade_rules.h"
#include "fadewright/plan/job.h"
#include "joint_fade.h"
#include "mix_resolver.h"
#include "perceptual_ramp.h"
#include "shapes.h"
#include "unknown_name.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace fadewright::plan {
namespace {

constexpr std::size_t kMaxCoats = 60, kMaxMixes = 100;  // limits of a plan

std::string plan_folder(const Plan& plan) {
    return plan.panel.span.source ? plan.panel.span.source->folder() : "";
}

class FadeExpander {
public:
    FadeExpander(const Plan& plan, Library& library, Diagnostics& diagnostics)
        : library_(library),
          diagnostics_(diagnostics),
          plan_(plan),
          used_names_(library.names(LibraryKind::paints)) {
        for (const Named<Mix>& mix : plan.mixes) used_names_.push_back(mix.name);
    }

    Plan expand_all() {
        std::vector<Coat> source_coats;
        source_coats.swap(plan_.coats);
        for (std::size_t i = 0; i < source_coats.size(); ++i) {
            const Coat& coat = source_coats[i];
            coats_above_ = std::span(source_coats).subspan(i + 1);
            if (!coat.fade) {
                plan_.coats.push_back(coat);
            } else if (!check_fade(coat, diagnostics_) || !expand(coat)) {
                add_even_coats(coat);
            }
        }
        return std::move(plan_);
    }

private:
    // Errors of mixes, the panel and so on are reported when these coats are resolved.
    void add_even_coats(const Coat& coat) {
        for (const Located<std::string>* mix : {&coat.fade->from, &coat.fade->to})
            plan_.coats.push_back(even_coat(coat, *mix));
    }

    static Coat even_coat(const Coat& coat, const Located<std::string>& mix) {
        Coat even;
        even.name = coat.name + ": " + mix.value;
        even.mix = mix;
        even.masks = coat.masks;
        even.even_coat = EvenCoat{coat.fade->base_film.value_or(coat.fade->film)};
        even.span = coat.span;
        return even;
    }

    std::optional<spray::Outline> panel_outline() {
        const Panel& panel = plan_.panel;
        if (panel.outline) return outline_of(*panel.outline, ignored_);
        if (!panel.width || !panel.height) return std::nullopt;
        return spray::Outline::rectangle(*panel.width, *panel.height, panel.corner_radius);
    }

    std::optional<spray::Outline> outline_of(const Shape& shape, Diagnostics& diagnostics) {
        ShapeReader reader(plan_folder(plan_), library_, diagnostics);
        const std::optional<DrawnOutline> drawn = reader.read(shape);
        return drawn ? std::optional(drawn->outline) : std::nullopt;
    }

    bool expand(const Coat& coat) {
        const Fade& fade = *coat.fade;
        const std::optional<spray::Outline> panel = panel_outline();
        const std::optional<spray::Outline> rim = fade.shape ? outline_of(*fade.shape, diagnostics_) : panel;
        if (!panel || !rim) return false;
        const FadeGeometry geometry(fade, *panel, fade.inward ? &*rim : nullptr);
        const FadeStages stages = fade_stages(fade, coat.name, geometry.width_mm(), used_names_);
        const std::optional<std::vector<FadeGun>> guns = fade_guns(coat, stages);
        if (!guns || !is_wide_enough(coat, stages, geometry, *guns)) return false;

        Plan extended;
        extended.mixes = plan_.mixes;
        extended.mixes.insert(extended.mixes.end(), stages.mixes.begin(), stages.mixes.end());
        MixResolver mixes(extended, library_, ignored_);
        std::optional<std::vector<Coat>> coats =
            fade.ramp == Ramp::joint ? expand_jointly(coat, stages, *guns, geometry, mixes)
                                     : expand_separately(coat, stages, *guns, geometry, mixes);
        if (!coats) return false;
        if (fade.base_coat) {
            coats->insert(coats->begin(), even_coat(coat, {stages.base_mix, fade.span}));
            coats->front().gun = coat.gun;
        }
        return add_to_plan(coat, std::move(extended.mixes), *coats);
    }

    std::optional<std::vector<Coat>> expand_separately(const Coat& coat, const FadeStages& stages,
                                                       const std::vector<FadeGun>& guns,
                                                       const FadeGeometry& geometry, MixResolver& mixes) {
        std::vector<Coat> coats;
        for (std::size_t i = 0; i < stages.coats.size(); ++i) {
            const FadeCoat& fade_coat = stages.coats[i];
            const std::optional<paint::MixedPaint> mix = mixed_paint(fade_coat.mix, coat.fade->span, mixes);
            const std::optional<RampProfile> profile = ramp_profile(fade_coat, *coat.fade, mix, mixes);
            if (!profile) return std::nullopt;
            std::optional<Coat> fade_coat_passes = solve_fade_coat(
                coat, fade_coat, *profile, guns[i], geometry, paint::dry_per_wet(*mix), diagnostics_);
            if (!fade_coat_passes) return std::nullopt;
            coats.push_back(std::move(*fade_coat_passes));
        }
        return coats;
    }

    std::optional<std::vector<Coat>> expand_jointly(const Coat& coat, const FadeStages& stages,
                                                    const std::vector<FadeGun>& guns,
                                                    const FadeGeometry& geometry, MixResolver& mixes) {
        const Fade& fade = *coat.fade;
        const LightAndGround view = light_and_ground();
        const std::optional<paint::MixedPaint> first = mixed_paint(stages.base_mix, fade.span, mixes);
        if (!view.light || !view.geometry || !first) return std::nullopt;
        std::vector<film::StackColour::Coat> stack;
        add_even_coat_films(plan_.coats, mixes, stack);
        stack.push_back({*first, fade.base_film.value_or(fade.film)});
        std::vector<double> dry;
        for (const FadeCoat& fade_coat : stages.coats) {
            const std::optional<paint::MixedPaint> mix = mixed_paint(fade_coat.mix, fade.span, mixes);
            if (!mix) return std::nullopt;
            stack.push_back({*mix, std::nullopt});
            dry.push_back(paint::dry_per_wet(*mix));
        }
        add_even_coat_films(coats_above_, mixes, stack);
        const bool matt = plan_.view.surface == Surface::matt;
        const double flatting = matt ? 1 : stack.back().film ? stack.back().mix.flatting.value : 0;
        const film::StackColour colours(view.geometry->inside, std::move(stack),
                                        {colorimeter(*view.light), plan_.view.angle, flatting});
        if (!has_colour_path(stages, colours)) return expand_separately(coat, stages, guns, geometry, mixes);
        return joint_coats({coat, stages, guns, geometry, colours, std::move(dry), plan_.view.distance},
                           diagnostics_);
    }

    // Even films; paint sprayed below or above a fade is not taken into account.
    static void add_even_coat_films(std::span<const Coat> coats, MixResolver& mixes,
                                    std::vector<film::StackColour::Coat>& stack) {
        for (const Coat& coat : coats) {
            if (!coat.even_coat) continue;
            if (const auto mix = mixed_paint(coat.mix.value, coat.span, mixes))
                stack.push_back({*mix, coat.even_coat->film});
        }
    }

    struct LightAndGround {
        const colour::Illuminant* light;
        const Ground* geometry;
    };
    LightAndGround light_and_ground() {
        return {library_.light(plan_.view.light.value, ignored_),
                library_.ground(plan_.panel.ground.value, ignored_)};
    }

    [[nodiscard]] film::Colorimeter colorimeter(const colour::Illuminant& light) const {
        return film::Colorimeter(light, plan_.view.observer == ObserverAngle::two
                                            ? colour::Observer::two_degree
                                            : colour::Observer::ten_degree);
    }

    // Nothing for a mix with errors or without solids: reported when the coats are resolved.
    static std::optional<paint::MixedPaint> mixed_paint(const std::string& name, const SourceSpan& span,
                                                        MixResolver& mixes) {
        const std::optional<Parts> parts = mixes.resolve({name, span});
        if (!parts) return std::nullopt;
        const paint::MixedPaint mix = paint::mix_paints(*parts);
        return mix.solids.value > 0 ? std::optional(mix) : std::nullopt;
    }

    std::optional<RampProfile> ramp_profile(const FadeCoat& fade_coat, const Fade& fade,
                                            const std::optional<paint::MixedPaint>& mix, MixResolver& mixes) {
        if (!mix) return std::nullopt;
        if (fade.ramp != Ramp::perceptual) return RampProfile(fade.ramp);
        if (fade_coat.mix_below.empty()) return RampProfile(Ramp::linear);
        const colour::Illuminant* light = library_.light(plan_.view.light.value, ignored_);
        const std::optional<paint::MixedPaint> below_mix = mixed_paint(fade_coat.mix_below, fade.span, mixes);
        if (!light || !below_mix) return std::nullopt;
        return perceptual_ramp(*mix, fade_coat.film, *below_mix, colorimeter(*light));
    }

    bool add_to_plan(const Coat& coat, std::vector<Named<Mix>> mixes, const std::vector<Coat>& coats) {
        if (plan_.coats.size() + coats.size() > kMaxCoats || mixes.size() > kMaxMixes) {
            diagnostics_.error(
                "P030", coat.fade->span,
                fmt::format("more than {} coats or {} mixes up to this fade", kMaxCoats, kMaxMixes),
                "use fewer mid colours or steps");
            return false;
        }
        for (std::size_t i = plan_.mixes.size(); i < mixes.size(); ++i) used_names_.push_back(mixes[i].name);
        plan_.mixes = std::move(mixes);
        plan_.coats.insert(plan_.coats.end(), coats.begin(), coats.end());
        return true;
    }

    std::optional<std::vector<FadeGun>> fade_guns(const Coat& coat, const FadeStages& stages) {
        const Fade& fade = *coat.fade;
        if (!fade.guns.empty() && fade.guns.size() != stages.coats.size()) {
            diagnostics_.error(
                "P029", fade.span,
                fmt::format("{} guns for {} graded coats", fade.guns.size(), stages.coats.size()),
                "give one per graded coat, or remove them and give the coat a gun");
            return std::nullopt;
        }
        std::vector<FadeGun> guns;
        for (std::size_t i = 0; i < stages.coats.size(); ++i) {
            const Located<std::string>& name = fade.guns.empty() ? coat.gun : fade.guns[i];
            const std::size_t before = diagnostics_.error_count();
            const LibraryGun* gun = library_.gun(name.value, diagnostics_);
            if (!gun) {
                if (diagnostics_.error_count() == before)
                    report_unknown("P003", "gun", name, library_.names(LibraryKind::guns), diagnostics_);
                return std::nullopt;
            }
            guns.push_back(make_fade_gun(coat, name, *gun));
        }
        return guns;
    }

    bool is_wide_enough(const Coat& coat, const FadeStages& stages, const FadeGeometry& geometry,
                        const std::vector<FadeGun>& guns) {
        const Fade& fade = *coat.fade;
        double min_width = 0;
        std::string gun_name;
        for (const FadeGun& fade_gun : guns) {
            const double width = film_edge_width_mm(coat, fade_gun, fade_heel_angle(fade)) /
                                 ten_to_ninety_share(fade.ramp) / stages.ramp_share;
            if (width > min_width) gun_name = fade_gun.name.value;
            min_width = std::max(min_width, width);
        }
        if (geometry.width_mm() >= min_width) return true;
        const DisplayUnits units = diagnostics_.units();
        diagnostics_.error(
            "P028", fade.span,
            fmt::format("'{}' cannot fade narrower than {}; this one is {}", gun_name,
                        units.input_text(Millimetres{std::ceil(min_width)}),
                        units.input_text(Millimetres{std::round(10 * geometry.width_mm()) / 10})),
            "make the fade wider, hold the gun closer, or use a gun with a smaller pattern");
        return false;
    }

    Library& library_;
    Diagnostics& diagnostics_;
    Diagnostics ignored_;  // reported when the coats are resolved
    Plan plan_;
    std::span<const Coat> coats_above_;    // above the current fade
    std::vector<std::string> used_names_;  // names of mixes and paints
};

}  // namespace

Plan expand_fades_leniently(const Plan& plan, Library& library, Diagnostics& diagnostics) {
    return FadeExpander(plan, library, diagnostics).expand_all();
}

std::optional<Plan> expand_fades(const Plan& plan, Library& library, Diagnostics& diagnostics) {
    const std::size_t before = diagnostics.error_count();
    Plan expanded = expand_fades_leniently(plan, library, diagnostics);
    // If a fade was not possible, the error is in its mixes or the panel, and is reported here.
    if (diagnostics.error_count() == before) (void)resolve_job(expanded, "", library, diagnostics);
    if (diagnostics.error_count() != before) return std::nullopt;
    return expanded;
}

std::optional<Millimetres> min_edge_width(const Coat& coat, const std::string& gun, Degrees tilt,
                                          Library& library) {
    Diagnostics ignored;
    const LibraryGun* found = library.gun(gun, ignored);
    if (!found) return std::nullopt;
    return Millimetres{film_edge_width_mm(coat, make_fade_gun(coat, {gun, {}}, *found), tilt)};
}

}  // namespace fadewright::plan
