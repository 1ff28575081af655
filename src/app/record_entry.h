// An entry of the job log from the options of `record`.
#pragma once

#include "fadewright/app/commands.h"
#include "fadewright/plan/job.h"
#include "fadewright/plan/job_log.h"
#include "fadewright/plan/library.h"

#include <variant>

namespace fadewright::app {

// True if any option of an entry is given.
[[nodiscard]] bool has_entry(const RecordRequest& request);

// The entry without date and plan, or the outcome of an error. `plan` has coats and passes instead of
// fades.
[[nodiscard]] std::variant<plan::LogEntry, Outcome> parse_entry(const RecordRequest& request,
                                                                const plan::Plan& plan, const plan::Job& job,
                                                                const plan::Library& library);

}  // namespace fadewright::app
