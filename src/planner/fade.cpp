#include "fadewright/planner/fade.h"

#include "fade_passes.h"
#include "fade_rules.h"
#include "fadewright/plan/mix_resolver.h"
#include "fadewright/plan/names.h"
#include "fadewright/plan/shapes.h"
#include "joint_fade.h"
#include "perceptual_ramp.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace fadewright::planner {
namespace {

constexpr std::size_t kMaxCoats = 60, kMaxMixes = 100;  // limits of a plan

class FadeExpander {
public:
    FadeExpander(const plan::Plan& plan, const plan::PlanContext& context, Diagnostics& diagnostics)
        : library_(context.library),
          shapes_(context.shapes),
          unread_(context.unread),
          diagnostics_(diagnostics),
          plan_(plan),
          used_names_(context.library.names(plan::LibraryKind::paints)) {
        for (const Named<plan::Mix>& mix : plan.mixes) used_names_.push_back(mix.name);
    }

    ExpandedFades expand_all() {
        std::vector<plan::Coat> source_coats;
        std::vector<std::size_t> coat_index;
        source_coats.swap(plan_.coats);
        for (std::size_t i = 0; i < source_coats.size(); ++i) {
            const plan::Coat& coat = source_coats[i];
            coats_above_ = std::span(source_coats).subspan(i + 1);
            if (!coat.fade) {
                plan_.coats.push_back(coat);
            } else if (!check_coat_with_fade(coat) || !expand(coat)) {
                add_even_coats(coat);
            }
            coat_index.resize(plan_.coats.size(), i);
        }
        return {std::move(plan_), std::move(coat_index)};
    }

private:
    // Every rule, and everything that the fade names; true if it can be expanded.
    bool check_coat_with_fade(const plan::Coat& coat) {
        const plan::Fade& fade = *coat.fade;
        bool good = check_fade(coat, unread_, diagnostics_);
        if (fade.shape) good = shapes_.read(*fade.shape) && good;
        const auto check_gun = [&](const Located<std::string>& gun) {
            if (!gun.value.empty()) good = plan::find_gun("P003", gun, library_, diagnostics_) && good;
        };
        check_gun(coat.gun);
        for (const Located<std::string>& gun : fade.guns) check_gun(gun);
        return good && !unread_.is_in(coat.span);
    }

    // Errors of mixes, the panel and so on are reported when these coats are resolved.
    void add_even_coats(const plan::Coat& coat) {
        for (const Located<std::string>* mix : {&coat.fade->from, &coat.fade->to})
            if (!mix->value.empty() || !unread_.is_in(coat.span))
                plan_.coats.push_back(even_coat(coat, *mix));
    }

    static plan::Coat even_coat(const plan::Coat& coat, const Located<std::string>& mix) {
        plan::Coat even;
        even.name = coat.name + ": " + mix.value;
        even.mix = mix;
        even.masks = coat.masks;
        even.fade_role = plan::FadeRole::base;
        even.even_coat = plan::EvenCoat{coat.fade->base_film.value_or(coat.fade->film)};
        even.span = coat.span;
        return even;
    }

    std::optional<geometry::Outline> panel_outline() {
        const plan::Panel& panel = plan_.panel;
        if (panel.outline) return outline_of(*panel.outline);
        if (!panel.width || !panel.height) return std::nullopt;
        const Millimetres half_side = 0.5 * std::min(*panel.width, *panel.height);
        return geometry::Outline::rectangle(*panel.width, *panel.height,
                                            std::min(panel.corner_radius, half_side));
    }

    std::optional<geometry::Outline> outline_of(const plan::Shape& shape) {
        const std::optional<plan::DrawnOutline> drawn = shapes_.read(shape);
        return drawn ? std::optional(drawn->outline) : std::nullopt;
    }

    bool expand(const plan::Coat& coat) {
        const plan::Fade& fade = *coat.fade;
        const std::optional<geometry::Outline> panel = panel_outline();
        const std::optional<geometry::Outline> rim = fade.shape ? outline_of(*fade.shape) : panel;
        if (!panel || !rim) return false;
        const FadeGeometry geometry(fade, *panel, fade.inward ? &*rim : nullptr);
        const FadeStages stages = fade_stages(fade, coat.name, geometry.width_mm(), used_names_);
        const std::optional<std::vector<FadeGun>> guns = fade_guns(coat, stages);
        if (!guns || !is_wide_enough(coat, stages, geometry, *guns)) return false;

        plan::Plan extended;
        extended.mixes = plan_.mixes;
        extended.mixes.insert(extended.mixes.end(), stages.mixes.begin(), stages.mixes.end());
        plan::MixResolver mixes(extended, library_);  // its mistakes are reported when the coats are resolved
        std::optional<std::vector<plan::Coat>> coats =
            fade.ramp == plan::Ramp::joint ? expand_jointly(coat, stages, *guns, geometry, mixes)
                                           : expand_separately(coat, stages, *guns, geometry, mixes);
        if (!coats) return false;
        if (fade.base_coat) {
            coats->insert(coats->begin(), even_coat(coat, {stages.base_mix, fade.span}));
            coats->front().gun = coat.gun;
        }
        return add_to_plan(coat, std::move(extended.mixes), *coats);
    }

    std::optional<std::vector<plan::Coat>> expand_separately(const plan::Coat& coat, const FadeStages& stages,
                                                             const std::vector<FadeGun>& guns,
                                                             const FadeGeometry& geometry,
                                                             plan::MixResolver& mixes) {
        std::vector<plan::Coat> coats;
        for (std::size_t i = 0; i < stages.coats.size(); ++i) {
            const FadeCoat& fade_coat = stages.coats[i];
            const std::optional<paint::MixedPaint> mix = mixed_paint(fade_coat.mix, coat.fade->span, mixes);
            const std::optional<RampProfile> profile = ramp_profile(fade_coat, *coat.fade, mix, mixes);
            if (!profile) return std::nullopt;
            std::optional<plan::Coat> fade_coat_passes = solve_fade_coat(
                coat, fade_coat, *profile, guns[i], geometry, paint::dry_per_wet(*mix), diagnostics_);
            if (!fade_coat_passes) return std::nullopt;
            coats.push_back(std::move(*fade_coat_passes));
        }
        return coats;
    }

    std::optional<std::vector<plan::Coat>> expand_jointly(const plan::Coat& coat, const FadeStages& stages,
                                                          const std::vector<FadeGun>& guns,
                                                          const FadeGeometry& geometry,
                                                          plan::MixResolver& mixes) {
        const plan::Fade& fade = *coat.fade;
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
        const bool matt = plan_.view.surface == plan::Surface::matt;
        const double flatting = matt ? 1 : stack.back().film ? stack.back().mix.flatting.value : 0;
        const film::StackColour colours(view.geometry->inside, std::move(stack),
                                        {colorimeter(*view.light), plan_.view.angle, flatting});
        if (!has_colour_path(stages, colours)) return expand_separately(coat, stages, guns, geometry, mixes);
        return joint_coats({coat, stages, guns, geometry, colours, std::move(dry), plan_.view.distance},
                           diagnostics_);
    }

    // Even films; paint sprayed below or above a fade is not taken into account.
    static void add_even_coat_films(std::span<const plan::Coat> coats, plan::MixResolver& mixes,
                                    std::vector<film::StackColour::Coat>& stack) {
        for (const plan::Coat& coat : coats) {
            if (!coat.even_coat) continue;
            if (const auto mix = mixed_paint(coat.mix.value, coat.span, mixes))
                stack.push_back({*mix, coat.even_coat->film});
        }
    }

    struct LightAndGround {
        const colour::Illuminant* light;
        const plan::Ground* geometry;
    };
    LightAndGround light_and_ground() {
        return {library_.light(plan_.view.light.value), library_.ground(plan_.panel.ground.value)};
    }

    [[nodiscard]] film::Colorimeter colorimeter(const colour::Illuminant& light) const {
        return film::Colorimeter(light, plan_.view.observer == plan::ObserverAngle::two
                                            ? colour::Observer::two_degree
                                            : colour::Observer::ten_degree);
    }

    // Nothing for a mix with errors or without solids: reported when the coats are resolved.
    static std::optional<paint::MixedPaint> mixed_paint(const std::string& name, const SourceSpan& span,
                                                        plan::MixResolver& mixes) {
        const std::optional<plan::Parts> parts = mixes.resolve({name, span});
        if (!parts) return std::nullopt;
        const paint::MixedPaint mix = paint::mix_paints(*parts);
        return mix.solids.value > 0 ? std::optional(mix) : std::nullopt;
    }

    std::optional<RampProfile> ramp_profile(const FadeCoat& fade_coat, const plan::Fade& fade,
                                            const std::optional<paint::MixedPaint>& mix,
                                            plan::MixResolver& mixes) {
        if (!mix) return std::nullopt;
        if (fade.ramp != plan::Ramp::perceptual) return RampProfile(fade.ramp);
        if (fade_coat.mix_below.empty()) return RampProfile(plan::Ramp::linear);
        const colour::Illuminant* light = library_.light(plan_.view.light.value);
        const std::optional<paint::MixedPaint> below_mix = mixed_paint(fade_coat.mix_below, fade.span, mixes);
        if (!light || !below_mix) return std::nullopt;
        return perceptual_ramp(*mix, fade_coat.film, *below_mix, colorimeter(*light));
    }

    bool add_to_plan(const plan::Coat& coat, std::vector<Named<plan::Mix>> mixes,
                     const std::vector<plan::Coat>& coats) {
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

    std::optional<std::vector<FadeGun>> fade_guns(const plan::Coat& coat, const FadeStages& stages) {
        const plan::Fade& fade = *coat.fade;
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
            const plan::LibraryGun* gun = plan::find_gun("P003", name, library_, diagnostics_);
            if (!gun) return std::nullopt;
            guns.push_back(make_fade_gun(coat, name, *gun));
        }
        return guns;
    }

    bool is_wide_enough(const plan::Coat& coat, const FadeStages& stages, const FadeGeometry& geometry,
                        const std::vector<FadeGun>& guns) {
        const plan::Fade& fade = *coat.fade;
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

    plan::Library& library_;
    plan::ShapeReader& shapes_;
    const UnreadFields& unread_;
    Diagnostics& diagnostics_;
    plan::Plan plan_;
    std::span<const plan::Coat> coats_above_;  // above the current fade
    std::vector<std::string> used_names_;      // names of mixes and paints
};

}  // namespace

ExpandedFades expand_fades(const plan::Plan& plan, const plan::PlanContext& context,
                           Diagnostics& diagnostics) {
    return FadeExpander(plan, context, diagnostics).expand_all();
}

Millimetres min_edge_width(const plan::Coat& coat, const plan::LibraryGun& gun, Degrees tilt) {
    return Millimetres{film_edge_width_mm(coat, make_fade_gun(coat, {}, gun), tilt)};
}

}  // namespace fadewright::planner
