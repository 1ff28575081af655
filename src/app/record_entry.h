// What was typed behind `record`, as an entry; or the outcome that says what is wrong with it.
#pragma once

#include "fadewright/app/commands.h"
#include "fadewright/plan/job_log.h"
#include "fadewright/plan/library.h"

#include <variant>

namespace fadewright::app {

// True if anything was typed that makes an entry.
[[nodiscard]] bool has_entry(const RecordRequest& request);

// Date and plan still to be filled in. `plan` has coats and passes instead of fades.
[[nodiscard]] std::variant<plan::LogEntry, Outcome> parse_entry(const RecordRequest& request,
                                                                const plan::Plan& plan,
                                                                plan::Library& library);

}  // namespace fadewright::app
