// From the text of a plan to a job: the only door, in one direction.
//
//     text -> plan -> fades planned -> plan with passes -> job
//
// Every stage runs once and none calls an earlier one. The mistakes of all stages are found together: after a
// field that cannot be read, everything that does not depend on it is still checked, and nothing is reported
// that only follows from it. After a line that is not TOML, only the fields are checked.
//
// A request resolves its plan once and hands the result on; whoever owns the results (a session) counts the
// calls. Variations of a plan (other methods, trials of a search) are plans of their own.
//
// Checks     tests/planner/resolve_test.cpp; tests/plans/bad
#pragma once

#include "fadewright/plan/job.h"
#include "fadewright/plan/library.h"
#include "fadewright/plan/plan.h"
#include "fadewright/text/diagnostic.h"

#include <cstddef>
#include <memory>
#include <optional>
#include <vector>

namespace fadewright::planner {

struct ResolvedPlan {
    std::shared_ptr<const Source> source;  // null for a plan that was never a text
    std::optional<plan::Plan> plan;  // as written, in the requested units; nothing if a field cannot be read
    std::optional<plan::Plan> expanded;  // coats and passes in place of fades; only if there is no error
    std::optional<plan::Job> job;        // of `expanded`; only if there is no error
    Diagnostics diagnostics;             // of all stages; in the requested units, else in the plan's
    UnitSystem written_units = UnitSystem::metric;  // what the plan itself says

    // Coats of `expanded` from `first` to before `last`.
    struct CoatRange {
        std::size_t first = 0, last = 0;
    };
    // What became of a coat of the plan, and where an expanded coat comes from. Both need a job (contract).
    [[nodiscard]] CoatRange expanded_coats(std::size_t plan_coat) const;
    [[nodiscard]] std::size_t plan_coat(std::size_t expanded_coat) const;

    std::vector<std::size_t> coat_index;  // of each coat of `expanded`: the coat of `plan`
};

// `units`: of the output; nothing: as the plan says.
[[nodiscard]] ResolvedPlan resolve(std::shared_ptr<const Source> source, plan::Library& library,
                                   std::optional<UnitSystem> units = {});

// A plan in memory, in its own units. Its source is that of the text it was read from (plan.span), if any.
[[nodiscard]] ResolvedPlan resolve(plan::Plan plan, plan::Library& library);

}  // namespace fadewright::planner
