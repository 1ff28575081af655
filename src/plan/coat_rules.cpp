#include "coat_rules.h"

#include "fadewright/plan/spray_passes.h"

#include <fmt/core.h>

namespace fadewright::plan {
namespace {

void check_sweep(const Sweep& sweep, Diagnostics& diagnostics) {
    check_motion(sweep, 2, sweep.span, diagnostics);
    if (sweep.from.x == sweep.to.x || sweep.from.y == sweep.to.y)
        diagnostics.error("P012", sweep.span, "the sweep's rectangle has no width or no height",
                          "give opposite corners in 'from' and 'to'");
}

void check_outline_pass(const OutlinePass& outline_pass, Diagnostics& diagnostics) {
    const bool keeps_points = outline_pass.offset.value == 0 || !outline_pass.smooth;
    check_motion(outline_pass, keeps_points ? distinct_point_count(outline_pass.path) : 0, outline_pass.span,
                 diagnostics);
    if (!outline_pass.path.empty() && (outline_pass.shape || distinct_point_count(outline_pass.path) < 2))
        diagnostics.error(
            "P025", outline_pass.span,
            outline_pass.shape ? "the line to follow is given twice" : "the line has no length",
            "give a shape, or a path through different points, or neither for the outline of the panel");
}

}  // namespace

bool check_coat(const Coat& coat, const UnreadFields& unread, Diagnostics& diagnostics) {
    if (coat.mix.value.empty())
        diagnostics.error("P026", coat.span, fmt::format("coat '{}' has no mix", coat.name),
                          "add  mix = \"...\",  or a fade");
    const bool sprayed = !coat.passes.empty() || !coat.sweeps.empty() || !coat.outline_passes.empty();
    if (!sprayed && !coat.even_coat)
        diagnostics.error("P006", coat.span, fmt::format("coat '{}' sprays nothing", coat.name),
                          "add  even_coat.film = \"20 um\",  or [[coats.sweeps]] or [[coats.passes]]");
    if ((sprayed || coat.laydown == Laydown::dots) && coat.gun.value.empty())
        diagnostics.error("P007", coat.span, fmt::format("coat '{}' has no gun", coat.name),
                          "add  gun = \"...\",  a gun from the library");
    const std::size_t before = diagnostics.error_count();
    for (const Pass& pass : coat.passes) check_movement(pass, diagnostics);
    for (const Sweep& sweep : coat.sweeps) check_sweep(sweep, diagnostics);
    for (const OutlinePass& outline_pass : coat.outline_passes) check_outline_pass(outline_pass, diagnostics);
    return diagnostics.error_count() == before && !unread.is_in(coat.span);
}

}  // namespace fadewright::plan
