#include "tune_parameters.h"

#include "fadewright/planner/fade.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace fadewright::assess {
namespace {

using plan::FadeMethod;
using plan::Ramp;

constexpr int kMaxMidColours = 3;

bool has_mid_colours(FadeMethod method) {
    return method == FadeMethod::mid_colours || method == FadeMethod::burst;
}

bool has_joint_passes(FadeMethod method) {
    return has_mid_colours(method) || method == FadeMethod::over || method == FadeMethod::under;
}

// Sets the width of the ramp about its centre and moves it towards `to`.
void set_ramp(plan::Fade& f, double width, double shift) {
    if (f.start && f.end) {
        const double old = ramp_width_mm(f);
        const double dx = (f.end->x - f.start->x).value / old, dy = (f.end->y - f.start->y).value / old;
        const double mx = (f.start->x + f.end->x).value / 2 + shift * dx,
                     my = (f.start->y + f.end->y).value / 2 + shift * dy;
        f.start = plan::Point{Millimetres{mx - width / 2 * dx}, Millimetres{my - width / 2 * dy}};
        f.end = plan::Point{Millimetres{mx + width / 2 * dx}, Millimetres{my + width / 2 * dy}};
        return;
    }
    f.width = Millimetres{width};
    if (f.inward) f.inward = Millimetres{f.inward->value + (f.inside ? shift : -shift)};
}

// The same fade sprayed from its other end: the last coat becomes the first.
plan::Fade reverse_fade(plan::Fade fade) {
    std::swap(fade.from, fade.to);
    std::swap(fade.start, fade.end);
    std::reverse(fade.path.begin(), fade.path.end());
    fade.inside = fade.inward.has_value() && !fade.inside;
    if (fade.mid_ratio) fade.mid_ratio = std::round(100 / *fade.mid_ratio) / 100;
    return fade;
}

plan::Fade with_method(plan::Fade fade, FadeMethod method) {
    fade.method = method;
    fade.steps.reset();
    fade.step_down.reset();
    fade.fog.reset();
    fade.heel_angle.reset();
    if (has_mid_colours(method)) return fade;
    fade.mid_colours.reset();
    fade.mid_ratio.reset();
    fade.extend.reset();
    fade.reduce.reset();
    return fade;
}

void set_value(const TuneParameter& parameter, double value, FadeSetting& setting, double& width,
               double& shift) {
    plan::Fade& fade = setting.fade;
    switch (parameter.vary) {
        case Vary::mid_ratio:
            fade.mid_ratio = value;
            break;
        case Vary::extend:
            fade.extend = value;
            break;
        case Vary::width:
            width = value;
            break;
        case Vary::position:
            shift = value;
            break;
        case Vary::overlap:
            fade.overlap = Share{value};
            break;
        case Vary::distance:
            setting.distance = Millimetres{value};
            break;
        case Vary::method:
        case Vary::order:
        case Vary::mid_colours:
        case Vary::passes:
            break;
    }
}

}  // namespace

plan::Plan FadeSetting::apply_to(const plan::Plan& plan, std::size_t coat) const {
    plan::Plan out = plan;
    out.coats[coat].fade = fade;
    out.coats[coat].distance = distance;
    return out;
}

double TuneParameter::round_value(double value) const noexcept {
    return std::clamp(std::round(value / step) * step, min, max);
}

std::vector<TuneParameter> tune_parameters(const FadeSetting& origin, double default_mm,
                                           const TuneOptions& options) {
    const plan::Fade& fade = origin.fade;
    const bool joint = fade.ramp == Ramp::joint;
    const double planned = ramp_width_mm(fade);
    const double width =
        options.width ? options.width->value / planner::ten_to_ninety_share(fade.ramp) : planned;
    const double distance = origin.distance.value_or(Millimetres{default_mm}).value;
    std::vector<TuneParameter> parameters;
    const auto add = [&](Vary vary, double min, double max, double step, double start) {
        if (options.varies(vary)) parameters.push_back({vary, min, max, step, std::clamp(start, min, max)});
    };
    if (has_mid_colours(fade.method)) add(Vary::mid_ratio, 0.3, 3, 0.1, fade.mid_ratio.value_or(1));
    if (has_mid_colours(fade.method) || fade.method == FadeMethod::glazed)
        add(Vary::extend, 0, joint ? 6 : 4, 0.5, fade.extend.value_or(2));
    add(Vary::width, (joint ? 0.85 : 0.6) * width, (joint ? 1.2 : 1.7) * width, 5, width);
    if (fade.path.empty()) add(Vary::position, -0.3 * planned, 0.3 * planned, 5, 0);
    // Passes solved jointly leave out those that are not needed: the closer the candidates, the better.
    add(Vary::overlap, 0.6, 0.85, 0.05, joint ? 0.8 : fade.overlap.value);
    add(Vary::distance, 0.75 * default_mm, 1.4 * default_mm, 10, distance);
    return parameters;
}

FadeSetting apply_values(FadeSetting origin, const std::vector<TuneParameter>& parameters,
                         const std::vector<double>& values) {
    double width = ramp_width_mm(origin.fade), shift = 0;
    for (std::size_t i = 0; i < parameters.size(); ++i)
        set_value(parameters[i], values[i], origin, width, shift);
    set_ramp(origin.fade, width, shift);
    return origin;
}

std::vector<plan::Fade> starting_points(const plan::Fade& own, const TuneOptions& options) {
    std::vector<FadeMethod> methods{own.method};
    if (options.varies(Vary::method))
        for (const FadeMethod m : {FadeMethod::over, FadeMethod::under, FadeMethod::mid_colours})
            if (m != own.method) methods.push_back(m);
    std::vector<plan::Fade> origins{own};
    const auto add = [&](const plan::Fade& origin) {
        if (std::find(origins.begin(), origins.end(), origin) == origins.end()) origins.push_back(origin);
    };
    const auto add_variants = [&](plan::Fade origin) {
        if (options.varies(Vary::passes) && has_joint_passes(origin.method)) origin.ramp = Ramp::joint;
        add(origin);
        if (options.varies(Vary::order) && origin.method == FadeMethod::mid_colours)
            add(reverse_fade(origin));
    };
    for (const FadeMethod method : methods) {
        const plan::Fade origin = method == own.method ? own : with_method(own, method);
        add_variants(origin);
        const bool vary_count = options.varies(Vary::mid_colours) || method != own.method;
        for (int count = 1; has_mid_colours(method) && vary_count && count <= kMaxMidColours; ++count) {
            plan::Fade variant = origin;
            variant.mid_colours = count;
            if (count != origin.mid_colours.value_or(method == FadeMethod::mid_colours ? 1 : 0))
                add_variants(variant);
        }
    }
    if (options.varies(Vary::order) && own.method == FadeMethod::over && !options.varies(Vary::method))
        add_variants(with_method(own, FadeMethod::under));
    if (options.varies(Vary::order) && own.method == FadeMethod::under && !options.varies(Vary::method))
        add_variants(with_method(own, FadeMethod::over));
    return origins;
}

namespace {

// Fades of two methods or orders have only the ramp and the overlap in common.
Ablation method_ablation(const FadeSetting& before, const FadeSetting& after) {
    Ablation out{before.fade.method == after.fade.method ? Vary::order : Vary::method, before};
    out.setting.distance = after.distance;
    out.setting.fade.overlap = after.fade.overlap;
    if (has_joint_passes(before.fade.method)) out.setting.fade.ramp = after.fade.ramp;
    set_ramp(out.setting.fade, ramp_width_mm(after.fade), 0);
    return out;
}

}  // namespace

std::vector<Ablation> ablations(const FadeSetting& before, const FadeSetting& after) {
    const plan::Fade &a = before.fade, &b = after.fade;
    std::vector<Ablation> out;
    const auto add = [&](Vary vary, const std::function<void(plan::Fade&)>& put_back) {
        out.push_back({vary, after});
        put_back(out.back().setting.fade);
    };
    if (a.method != b.method || a.from.value != b.from.value) {
        out.push_back(method_ablation(before, after));
    } else if (a.mid_colours.value_or(kDefaultMidColours) != b.mid_colours.value_or(kDefaultMidColours)) {
        add(Vary::mid_colours, [&](plan::Fade& f) { f.mid_colours = a.mid_colours; });
    }
    if (a.ramp != b.ramp) add(Vary::passes, [&](plan::Fade& f) { f.ramp = a.ramp; });
    if (has_mid_colours(b.method) &&
        a.mid_ratio.value_or(kDefaultMidRatio) != b.mid_ratio.value_or(kDefaultMidRatio))
        add(Vary::mid_ratio, [&](plan::Fade& f) { f.mid_ratio = a.mid_ratio; });
    if (b.extend && a.extend.value_or(kAssumedExtend) != *b.extend)
        add(Vary::extend, [&](plan::Fade& f) { f.extend = a.extend; });
    if (std::abs(ramp_width_mm(a) - ramp_width_mm(b)) > 0.5)
        add(Vary::width, [&](plan::Fade& f) { set_ramp(f, ramp_width_mm(a), 0); });
    if (a.overlap != b.overlap) add(Vary::overlap, [&](plan::Fade& f) { f.overlap = a.overlap; });
    if (before.distance != after.distance) {
        out.push_back({Vary::distance, after});
        out.back().setting.distance = before.distance;
    }
    return out;
}

}  // namespace fadewright::assess
