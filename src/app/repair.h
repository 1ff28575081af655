// `record --repair`: a spot's repair by the record, or by the plan where nothing was recorded.
#pragma once

#include "fadewright/app/commands.h"
#include "fadewright/plan/job_log.h"
#include "outcome.h"

namespace fadewright::app {

// `record` is empty if there is none.
[[nodiscard]] Outcome repair(const RecordRequest& request, OpenedPlan opened, const plan::JobLog& record);

}  // namespace fadewright::app
