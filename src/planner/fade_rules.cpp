#include "fade_rules.h"

#include "fadewright/plan/plan_schema.h"
#include "fadewright/plan/spray_passes.h"

#include <fmt/core.h>

#include <algorithm>
#include <initializer_list>

namespace fadewright::planner {
namespace {

void check_position(const plan::Fade& fade, Diagnostics& diagnostics) {
    const bool straight = fade.start || fade.end, path = !fade.path.empty(), rim = fade.inward || fade.shape;
    const auto wrong = [&](std::string_view message, std::string_view hint) {
        diagnostics.error("P027", fade.span, std::string(message), std::string(hint));
    };
    if (straight + path + rim != 1)
        return wrong(straight + path + rim == 0 ? "the fade has no position"
                                                : "the position of the fade is given twice",
                     "give either start and end, or a path and width, or inward and width");
    if (straight && (!fade.start || !fade.end || fade.start == fade.end))
        return wrong("start and end are the same point", "give two different points");
    if (straight && fade.width)
        return wrong("start and end already give the width of the fade", "remove width");
    if (!straight && !fade.width) return wrong("the fade has no width", "give  width = \"200 mm\"");
    if (path && plan::distinct_point_count(fade.path) < 2)
        return wrong("the line has no length", "give a path through different points");
    if (rim && !fade.inward)
        return wrong("the distance of the fade from the edge is missing", "give  inward = \"80 mm\"");
    if (fade.inside && !rim)
        return wrong("a fade along a line has no inside",
                     "remove inside; to change sides, swap start and end or reverse the path");
    if (fade.method == plan::FadeMethod::burst && (!rim || fade.inside))
        return wrong("a burst needs an edge", "give inward and width, without inside");
}

// Methods and coats without a joint ramp.
void check_joint_ramp(const plan::Coat& coat, Diagnostics& diagnostics) {
    using M = plan::FadeMethod;
    const M method = coat.fade->method;
    if (method != M::over && method != M::under && method != M::mid_colours && method != M::burst)
        diagnostics.error("P031", coat.fade->span,
                          fmt::format("the ramp 'joint' has no effect with method '{}'", name_of(method)),
                          "use it with over, under, mid-colours or burst, or remove ramp");
    if (coat.laydown != plan::Laydown::wet)
        diagnostics.error("P031", coat.fade->span, "the ramp 'joint' needs paint that flows out",
                          "remove laydown, or remove ramp");
}

// Fields without effect in the fade's method.
void check_measures(const plan::Coat& coat, Diagnostics& diagnostics) {
    using M = plan::FadeMethod;
    const plan::Fade& fade = *coat.fade;
    const auto check = [&](bool given, std::string_view measure, std::initializer_list<M> methods) {
        if (!given || std::find(methods.begin(), methods.end(), fade.method) != methods.end()) return;
        std::vector<std::string> names;
        for (const M method : methods) names.emplace_back(name_of(method));
        diagnostics.error("P031", fade.span,
                          fmt::format("'{}' has no effect with method '{}'", measure, name_of(fade.method)),
                          fmt::format("remove it; it is for {}", detail::join_text(names, ", ")));
    };
    check(fade.mid_colours.has_value(), "mid_colours", {M::mid_colours, M::burst});
    check(fade.mid_ratio.has_value(), "mid_ratio", {M::mid_colours, M::burst});
    check(fade.steps.has_value(), "steps", {M::stepped, M::glazed});
    check(fade.step_down.has_value(), "step_down", {M::stepped});
    check(fade.extend.has_value(), "extend", {M::mid_colours, M::burst, M::glazed, M::fogged});
    check(fade.reduce.has_value(), "reduce", {M::mid_colours, M::burst, M::glazed, M::fogged, M::stepped});
    check(fade.fog.has_value(), "fog", {M::fogged});
    check(fade.heel_angle.has_value(), "heel_angle", {M::burst});
    if (fade.method == M::mid_colours && fade.mid_colours == 0)
        diagnostics.error("P031", fade.span, "method 'mid-colours' needs at least one mid colour",
                          "write  mid_colours = 1,  or  method = \"over\"");
    if (fade.ramp == plan::Ramp::joint) check_joint_ramp(coat, diagnostics);
}

}  // namespace

bool check_fade(const plan::Coat& coat, const UnreadFields& unread, Diagnostics& diagnostics) {
    const std::size_t before = diagnostics.error_count();
    const plan::Fade& fade = *coat.fade;
    if (!coat.mix.value.empty() || coat.even_coat || !coat.sweeps.empty() || !coat.outline_passes.empty() ||
        !coat.passes.empty())
        diagnostics.error("P026", coat.span, fmt::format("coat '{}' has a fade and other paint", coat.name),
                          "a fade has its own mixes and passes; move the rest to a coat of its own");
    if (coat.gun.value.empty() && fade.guns.empty() && !unread.has_field(fade.span, "guns"))
        diagnostics.error("P007", coat.span, fmt::format("coat '{}' has no gun", coat.name),
                          "add  gun = \"...\",  a gun from the library");
    if (fade.from == fade.to)
        diagnostics.error("P031", fade.span,
                          fmt::format("start and end are the same mix: '{}'", fade.to.value),
                          "give two different mixes");
    check_position(fade, diagnostics);
    check_measures(coat, diagnostics);
    return diagnostics.error_count() == before;
}

}  // namespace fadewright::planner
