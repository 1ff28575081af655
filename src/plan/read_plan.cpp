#include "fadewright/plan/read_plan.h"

#include "fadewright/plan/plan_schema.h"

namespace fadewright::plan {
namespace {

// The plan's units, before the rest of it is read.
UnitSystem stated_units(const Node& plan) {
    const Node* stated = plan.find("units");
    return stated && stated->text == name_of(UnitSystem::us) ? UnitSystem::us : UnitSystem::metric;
}

}  // namespace

PlanReading read_plan(std::shared_ptr<const Source> source, std::optional<UnitSystem> units) {
    PlanReading out;
    const std::optional<ParsedTree> tree = read_toml(std::move(source), out.diagnostics);
    if (!tree) return out;
    out.diagnostics.set_units(units.value_or(stated_units(tree->root)));
    if (tree->complete && !tree->root.find("plan")) {
        out.diagnostics.error(
            "S008", tree->root.span,
            tree->root.entries.empty() ? "this file is empty" : "this file is not marked as a plan",
            "start a plan with  plan = 1,  a paint with  paint = 1,  and so on");
        return out;
    }
    Plan plan;
    ReadContext context{out.diagnostics};
    const bool complete = read_struct(*tree, plan, context);
    out.unread = std::move(context.unread);
    if (complete) out.plan = plan;
    // A line that is not TOML may have been anything.
    if (tree->complete) out.partial = std::move(plan);
    return out;
}

std::optional<Plan> read_plan(std::shared_ptr<const Source> source, Diagnostics& diagnostics,
                              std::optional<UnitSystem> units) {
    PlanReading reading = read_plan(std::move(source), units);
    diagnostics.set_units(reading.diagnostics.units());
    diagnostics.add_all(reading.diagnostics);
    return std::move(reading.plan);
}

}  // namespace fadewright::plan
