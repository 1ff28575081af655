// A plan as the session keeps it: read, and resolved with the library.
#pragma once

#include "fadewright/app/session.h"
#include "fadewright/plan/job.h"
#include "fadewright/plan/library.h"
#include "fadewright/plan/plan.h"

#include <memory>
#include <optional>

namespace fadewright::app {

struct PreparedPlan {
    std::shared_ptr<const Source> source;
    Diagnostics diagnostics;
    UnitSystem written_units = UnitSystem::metric;  // as the plan's text says
    std::optional<plan::Plan> plan;      // as written, to be shown in the requested units; nothing if a field
                                         // is invalid
    std::optional<plan::Plan> expanded;  // coats and passes in place of fades; nothing if the plan is invalid
    std::optional<plan::Job> job;        // of the expanded plan
    plan::Library library;               // as used for the plan; copy it to read more items

    // The expanded coats of a coat of the plan: from `first` to before `last`.
    struct CoatRange {
        std::size_t first = 0, last = 0;
    };
    [[nodiscard]] CoatRange expanded_coats(std::size_t coat) const;
    [[nodiscard]] std::size_t plan_coat(std::size_t expanded_coat) const;
};

// A plan as written, with the units to show it in.
struct ReadPlan {
    plan::Plan plan;
    UnitSystem written_units = UnitSystem::metric;  // as its text says
};

// Nothing if the text or any field is wrong.
[[nodiscard]] std::optional<ReadPlan> read_plan(const std::shared_ptr<const Source>& source,
                                                Diagnostics& diagnostics, std::optional<UnitSystem> units);

// The text of the plan: given, or read from its file.
[[nodiscard]] Result<std::shared_ptr<const Source>> source_of(const PlanInput& input);

}  // namespace fadewright::app
