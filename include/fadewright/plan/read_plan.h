// The text of a plan as a plan: the fields alone, before any name in it is looked up.
//
// Whole requests start at resolve() (resolve.h), which reads, checks and resolves; this is for those who need
// the fields only, such as the plan copies of a job log.
//
// Checks     tests/plan/read_plan_test.cpp
#pragma once

#include "fadewright/plan/plan.h"
#include "fadewright/text/diagnostic.h"
#include "fadewright/text/unread_fields.h"

#include <memory>
#include <optional>

namespace fadewright::plan {

struct PlanReading {
    std::optional<Plan> plan;     // nothing if anything could not be read
    std::optional<Plan> partial;  // what could be read; nothing if the text is not TOML or not a plan
    UnreadFields unread;          // of the partial plan
    Diagnostics diagnostics;
};

// Errors are shown in the requested units, or else in the plan's.
[[nodiscard]] PlanReading read_plan(std::shared_ptr<const Source> source,
                                    std::optional<UnitSystem> units = {});

// The same, with the errors added to a list that is then in those units.
[[nodiscard]] std::optional<Plan> read_plan(std::shared_ptr<const Source> source, Diagnostics& diagnostics,
                                            std::optional<UnitSystem> units = {});

}  // namespace fadewright::plan
