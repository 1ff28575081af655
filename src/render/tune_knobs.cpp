#include "tune_knobs.h"

#include "fadewright/plan/plan_schema.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace fadewright::render {
namespace {

using plan::FadeMethod;
using plan::Ramp;

constexpr int kMostMiddles = 3;

bool has_middles(FadeMethod method) { return method == FadeMethod::middles || method == FadeMethod::burst; }

bool has_road(FadeMethod method) {
    return has_middles(method) || method == FadeMethod::over || method == FadeMethod::under;
}

// Widens the ramp about its middle and moves it towards `to`.
void set_ramp(plan::Fade& f, double width, double moved) {
    if (f.start && f.end) {
        const double old = ramp_width_mm(f);
        const double dx = (f.end->x - f.start->x).value / old, dy = (f.end->y - f.start->y).value / old;
        const double mx = (f.start->x + f.end->x).value / 2 + moved * dx,
                     my = (f.start->y + f.end->y).value / 2 + moved * dy;
        f.start = plan::Point{Millimetres{mx - width / 2 * dx}, Millimetres{my - width / 2 * dy}};
        f.end = plan::Point{Millimetres{mx + width / 2 * dx}, Millimetres{my + width / 2 * dy}};
        return;
    }
    f.width = Millimetres{width};
    if (f.inward) f.inward = Millimetres{f.inward->value + (f.inside ? moved : -moved)};
}

// The same fade laid from its other end: what was laid last lies beneath.
plan::Fade other_way_round(plan::Fade fade) {
    std::swap(fade.from, fade.to);
    std::swap(fade.start, fade.end);
    std::reverse(fade.path.begin(), fade.path.end());
    fade.inside = fade.inward.has_value() && !fade.inside;
    if (fade.middle_ratio) fade.middle_ratio = std::round(100 / *fade.middle_ratio) / 100;
    return fade;
}

plan::Fade with_method(plan::Fade fade, FadeMethod method) {
    fade.method = method;
    fade.steps.reset();
    fade.step_down.reset();
    fade.mist.reset();
    fade.tilt.reset();
    if (has_middles(method)) return fade;
    fade.middles.reset();
    fade.middle_ratio.reset();
    fade.extend.reset();
    fade.reduce.reset();
    return fade;
}

void set(const Knob& knob, double value, Setting& setting, double& width, double& moved) {
    plan::Fade& fade = setting.fade;
    switch (knob.vary) {
        case Vary::middle_ratio:
            fade.middle_ratio = value;
            break;
        case Vary::extend:
            fade.extend = value;
            break;
        case Vary::width:
            width = value;
            break;
        case Vary::place:
            moved = value;
            break;
        case Vary::overlap:
            fade.overlap = Share{value};
            break;
        case Vary::distance:
            setting.distance = Millimetres{value};
            break;
        case Vary::method:
        case Vary::order:
        case Vary::middles:
        case Vary::passes:
            break;
    }
}

}  // namespace

double ramp_width_mm(const plan::Fade& f) {
    if (f.start && f.end) return std::hypot((f.end->x - f.start->x).value, (f.end->y - f.start->y).value);
    return f.width ? f.width->value : 0;
}

plan::Plan Setting::in(const plan::Plan& plan, std::size_t coat) const {
    plan::Plan out = plan;
    out.coats[coat].fade = fade;
    out.coats[coat].distance = distance;
    return out;
}

double Knob::rounded(double value) const noexcept {
    return std::clamp(std::round(value / round_to) * round_to, low, high);
}

std::vector<Knob> knobs_of(const Setting& base, double usual_mm, const TuneWish& wish) {
    const plan::Fade& fade = base.fade;
    const bool road = fade.ramp == Ramp::road;
    const double planned = ramp_width_mm(fade);
    const double width = wish.width ? wish.width->value / (fade.ramp == Ramp::soft ? 0.5903 : 0.8) : planned;
    const double distance = base.distance.value_or(Millimetres{usual_mm}).value;
    std::vector<Knob> knobs;
    const auto add = [&](Vary vary, double low, double high, double round_to, double start) {
        if (wish.may(vary)) knobs.push_back({vary, low, high, round_to, std::clamp(start, low, high)});
    };
    if (has_middles(fade.method)) add(Vary::middle_ratio, 0.3, 3, 0.1, fade.middle_ratio.value_or(1));
    if (has_middles(fade.method) || fade.method == FadeMethod::transparent)
        add(Vary::extend, 0, road ? 6 : 4, 0.5, fade.extend.value_or(2));
    add(Vary::width, (road ? 0.85 : 0.6) * width, (road ? 1.2 : 1.7) * width, 5, width);
    if (fade.path.empty()) add(Vary::place, -0.3 * planned, 0.3 * planned, 5, 0);
    // Along the road passes that are not needed are left out: the closer they may lie, the better.
    add(Vary::overlap, 0.6, 0.85, 0.05, road ? 0.8 : fade.overlap.value);
    add(Vary::distance, 0.75 * usual_mm, 1.4 * usual_mm, 10, distance);
    return knobs;
}

Setting turned(Setting base, const std::vector<Knob>& knobs, const std::vector<double>& values) {
    double width = ramp_width_mm(base.fade), moved = 0;
    for (std::size_t i = 0; i < knobs.size(); ++i) set(knobs[i], values[i], base, width, moved);
    set_ramp(base.fade, width, moved);
    return base;
}

std::vector<plan::Fade> bases_of(const plan::Fade& own, const TuneWish& wish) {
    std::vector<FadeMethod> methods{own.method};
    if (wish.may(Vary::method))
        for (const FadeMethod m : {FadeMethod::over, FadeMethod::under, FadeMethod::middles})
            if (m != own.method) methods.push_back(m);
    std::vector<plan::Fade> bases{own};
    const auto add = [&](const plan::Fade& base) {
        if (std::find(bases.begin(), bases.end(), base) == bases.end()) bases.push_back(base);
    };
    const auto add_ways = [&](plan::Fade base) {
        if (wish.may(Vary::passes) && has_road(base.method)) base.ramp = Ramp::road;
        add(base);
        if (wish.may(Vary::order) && base.method == FadeMethod::middles) add(other_way_round(base));
    };
    for (const FadeMethod method : methods) {
        const plan::Fade base = method == own.method ? own : with_method(own, method);
        add_ways(base);
        const bool counts = wish.may(Vary::middles) || method != own.method;
        for (int middles = 1; has_middles(method) && counts && middles <= kMostMiddles; ++middles) {
            plan::Fade more = base;
            more.middles = middles;
            if (middles != base.middles.value_or(method == FadeMethod::middles ? 1 : 0)) add_ways(more);
        }
    }
    if (wish.may(Vary::order) && own.method == FadeMethod::over && !wish.may(Vary::method))
        add_ways(with_method(own, FadeMethod::under));
    if (wish.may(Vary::order) && own.method == FadeMethod::under && !wish.may(Vary::method))
        add_ways(with_method(own, FadeMethod::over));
    return bases;
}

namespace {

// Fades of two methods or orders have no measures in common but ramp and overlap.
Undone other_way(const Setting& before, const Setting& after) {
    Undone out{"method", std::string(name_of(before.fade.method)), std::string(name_of(after.fade.method)),
               before};
    if (before.fade.method == after.fade.method)
        out = {"laid first", before.fade.from.value, after.fade.from.value, before};
    out.setting.distance = after.distance;
    out.setting.fade.overlap = after.fade.overlap;
    if (has_road(before.fade.method)) out.setting.fade.ramp = after.fade.ramp;
    set_ramp(out.setting.fade, ramp_width_mm(after.fade), 0);
    return out;
}

std::string passes_words(Ramp ramp) { return ramp == Ramp::road ? "together" : "coat by coat"; }

}  // namespace

std::vector<Undone> undone(const Setting& before, const Setting& after, ShownUnits units) {
    const plan::Fade &a = before.fade, &b = after.fade;
    std::vector<Undone> out;
    const auto add = [&](std::string what, std::string from, std::string to,
                         const std::function<void(plan::Fade&)>& put_back) {
        Undone u{std::move(what), std::move(from), std::move(to), after};
        put_back(u.setting.fade);
        out.push_back(std::move(u));
    };
    if (a.method != b.method || a.from.value != b.from.value) {
        out.push_back(other_way(before, after));
    } else if (a.middles.value_or(1) != b.middles.value_or(1)) {
        add("middles", std::to_string(a.middles.value_or(1)), std::to_string(b.middles.value_or(1)),
            [&](plan::Fade& f) { f.middles = a.middles; });
    }
    if (a.ramp != b.ramp)
        add("passes found", passes_words(a.ramp), passes_words(b.ramp),
            [&](plan::Fade& f) { f.ramp = a.ramp; });
    if (has_middles(b.method) && a.middle_ratio.value_or(1) != b.middle_ratio.value_or(1))
        add("middle ratio", fmt::format("{:.1f}", a.middle_ratio.value_or(1)),
            fmt::format("{:.1f}", b.middle_ratio.value_or(1)),
            [&](plan::Fade& f) { f.middle_ratio = a.middle_ratio; });
    if (b.extend && a.extend.value_or(2) != *b.extend)
        add("extend", fmt::format("{:.1f}", a.extend.value_or(2)), fmt::format("{:.1f}", *b.extend),
            [&](plan::Fade& f) { f.extend = a.extend; });
    if (std::abs(ramp_width_mm(a) - ramp_width_mm(b)) > 0.5)
        add("width of the ramp", units.text(Millimetres{ramp_width_mm(a)}),
            units.text(Millimetres{ramp_width_mm(b)}),
            [&](plan::Fade& f) { set_ramp(f, ramp_width_mm(a), 0); });
    if (a.overlap != b.overlap)
        add("overlap", fmt::format("{:.0f} %", 100 * a.overlap.value),
            fmt::format("{:.0f} %", 100 * b.overlap.value), [&](plan::Fade& f) { f.overlap = a.overlap; });
    if (before.distance != after.distance) {
        Undone u{"distance", before.distance ? units.text(*before.distance) : "the gun's",
                 units.text(*after.distance), after};
        u.setting.distance = before.distance;
        out.push_back(std::move(u));
    }
    return out;
}

}  // namespace fadewright::render
