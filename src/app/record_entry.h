// An entry of the job log from the options of `record`.
#pragma once

#include "fadewright/app/commands.h"
#include "fadewright/plan/job.h"
#include "fadewright/production/job_log.h"
#include "outcome.h"

namespace fadewright::app {

// True if any option of an entry is given.
[[nodiscard]] bool has_entry(const RecordRequest& request);

// The entry without date and plan.
[[nodiscard]] Attempt<production::LogEntry> parse_entry(const RecordRequest& request,
                                                        const PreparedPlan& prepared);

}  // namespace fadewright::app
