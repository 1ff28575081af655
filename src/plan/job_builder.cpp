#include "fadewright/plan/job_builder.h"

#include "coat_resolver.h"
#include "fadewright/base/contract.h"
#include "fadewright/plan/mix_resolver.h"
#include "fadewright/plan/names.h"
#include "workpiece_resolver.h"

#include <fmt/core.h>

#include <algorithm>
#include <set>

namespace fadewright::plan {
namespace {

void resolve_view(const View& view, const PlanContext& context, Diagnostics& diagnostics, Job& job) {
    if (const colour::Illuminant* light = find_light("P005", view.light, context.library, diagnostics))
        job.light = *light;
    job.observer =
        view.observer == ObserverAngle::two ? colour::Observer::two_degree : colour::Observer::ten_degree;
    job.view_distance = view.distance;
    job.view_angle = view.angle;
    job.surface = view.surface;
}

}  // namespace

void check_names(const Plan& plan, const Library& library, Diagnostics& diagnostics) {
    const std::vector<std::string> paints = library.names(LibraryKind::paints);
    for (const Named<Mix>& mix : plan.mixes)
        if (std::find(paints.begin(), paints.end(), mix.name) != paints.end())
            diagnostics.error("P011", mix.span,
                              fmt::format("'{}' is already the name of a paint in the library", mix.name),
                              "give the mix another name");
    std::set<std::string> names;
    for (const Coat& coat : plan.coats)
        if (!names.insert(coat.name).second)
            diagnostics.error("P016", coat.span,
                              fmt::format("another coat is already called '{}'", coat.name),
                              "give every coat a different name");
}

std::optional<Job> build_job(const Plan& plan, const PlanContext& context, Diagnostics& diagnostics) {
    const std::size_t before = diagnostics.error_count();
    Job job;
    job.title = plan.title;
    if (plan.span.source) job.hash = plan.span.source->sha256();
    job.units = plan.units;
    const bool panel_known = resolve_panel(plan, context, diagnostics, job);
    resolve_view(plan.view, context, diagnostics, job);
    const MaskOutlines masks = read_masks(plan, context.shapes);
    MixResolver mixes(plan, context.library, diagnostics.units(), context.unread);
    for (const Named<Mix>& mix : plan.mixes) (void)mixes.resolve({mix.name, mix.span});
    CoatResolver coats(plan, context, mixes, masks, diagnostics);
    for (const Coat& coat : plan.coats) {
        FW_EXPECTS(!coat.fade);
        coats.add(coat, panel_known, job);
    }
    diagnostics.add_all(mixes.mistakes());
    const bool complete = diagnostics.error_count() == before && !context.shapes.mistakes().has_errors() &&
                          context.unread.empty();
    return complete ? std::optional(std::move(job)) : std::nullopt;
}

}  // namespace fadewright::plan
