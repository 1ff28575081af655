// `record --repair`: a spot repair from the job log, or from the plan if there is no log.
#pragma once

#include "fadewright/app/commands.h"
#include "fadewright/production/job_log.h"
#include "outcome.h"

namespace fadewright::app {

// `record` is empty if there is no log.
[[nodiscard]] Attempt<Outcome> repair(Session& session, const RecordRequest& request,
                                      const OpenedPlan& opened, const production::JobLog& record);

}  // namespace fadewright::app
