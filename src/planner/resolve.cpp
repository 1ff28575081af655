#include "fadewright/planner/resolve.h"

#include "fadewright/base/contract.h"
#include "fadewright/plan/job_builder.h"
#include "fadewright/plan/read_plan.h"
#include "fadewright/plan/shapes.h"
#include "fadewright/planner/fade.h"

#include <algorithm>
#include <utility>

namespace fadewright::planner {
namespace {

// The stages after reading. `out` has the mistakes found while reading.
void resolve_stages(const plan::Plan& plan, const UnreadFields& unread, plan::Library& library,
                    ResolvedPlan& out) {
    Diagnostics found;
    found.set_units(out.diagnostics.units());
    plan::ShapeReader shapes(plan.span.source, library, found.units(), unread);
    const plan::PlanContext context{library, shapes, unread};
    plan::check_names(plan, library, found);
    ExpandedFades expanded = expand_fades(plan, context, found);
    std::optional<plan::Job> job = plan::build_job(expanded.plan, context, found);
    found.add_all(shapes.mistakes());
    Diagnostics certain;
    for (Diagnostic& mistake : found.sorted_list())
        if (!unread.explains(mistake.span)) certain.add(std::move(mistake));
    out.diagnostics.add_all(certain);
    if (!job || out.diagnostics.has_errors()) return;
    out.expanded = std::move(expanded.plan);
    out.coat_index = std::move(expanded.coat_index);
    out.job = std::move(job);
}

}  // namespace

ResolvedPlan::CoatRange ResolvedPlan::expanded_coats(std::size_t plan_coat) const {
    FW_EXPECTS(job && plan_coat < plan->coats.size());
    const auto range = std::equal_range(coat_index.begin(), coat_index.end(), plan_coat);
    return {static_cast<std::size_t>(range.first - coat_index.begin()),
            static_cast<std::size_t>(range.second - coat_index.begin())};
}

std::size_t ResolvedPlan::plan_coat(std::size_t expanded_coat) const {
    FW_EXPECTS(job && expanded_coat < coat_index.size());
    return coat_index[expanded_coat];
}

ResolvedPlan resolve(std::shared_ptr<const Source> source, plan::Library& library,
                     std::optional<UnitSystem> units) {
    plan::PlanReading reading = plan::read_plan(source, units);
    ResolvedPlan out;
    out.source = std::move(source);
    out.diagnostics = std::move(reading.diagnostics);
    if (!reading.partial) return out;
    out.written_units = reading.partial->units;
    reading.partial->units = units.value_or(out.written_units);
    resolve_stages(*reading.partial, reading.unread, library, out);
    if (reading.plan) out.plan = std::move(reading.partial);
    return out;
}

ResolvedPlan resolve(plan::Plan plan, plan::Library& library) {
    ResolvedPlan out;
    out.source = plan.span.source;
    out.written_units = plan.units;
    out.diagnostics.set_units(plan.units);
    resolve_stages(plan, {}, library, out);
    out.plan = std::move(plan);
    return out;
}

}  // namespace fadewright::planner
