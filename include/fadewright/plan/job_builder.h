// A plan with passes and a library become a job.
//
// build_job() checks every cross-field rule (rules.h), resolves mixes down to paints, turns sweeps into passes
// and passes into deposits, and calculates the dry film of each coat. It reports every mistake, and gives a
// job only if there is none and everything was read. It knows no fades: resolve() plans them first.
#pragma once

#include "fadewright/plan/job.h"
#include "fadewright/plan/library.h"
#include "fadewright/plan/plan.h"
#include "fadewright/plan/shapes.h"
#include "fadewright/text/diagnostic.h"
#include "fadewright/text/unread_fields.h"

#include <optional>

namespace fadewright::plan {

// What a plan is resolved with. The mistakes of shapes stay in their reader.
struct PlanContext {
    Library& library;
    ShapeReader& shapes;
    const UnreadFields& unread;
};

// The rules about names within the plan as written: P011 and P016.
void check_names(const Plan& plan, const Library& library, Diagnostics& diagnostics);

// The plan's coats have no fades (contract).
[[nodiscard]] std::optional<Job> build_job(const Plan& plan, const PlanContext& context,
                                           Diagnostics& diagnostics);

}  // namespace fadewright::plan
