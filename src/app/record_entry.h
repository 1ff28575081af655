// What was typed behind `record`, as an entry; or the outcome that says what is wrong with it.
#pragma once

#include "fadewright/app/commands.h"
#include "fadewright/plan/record.h"
#include "fadewright/plan/shelf.h"

#include <variant>

namespace fadewright::app {

// True if anything was typed that makes an entry.
[[nodiscard]] bool says_what_was_done(const RecordRequest& request);

// Date and plan still to be filled in. `plan` has coats and passes instead of fades.
[[nodiscard]] std::variant<plan::RecordEntry, Outcome> entry_of(const RecordRequest& request,
                                                                const plan::Plan& plan, plan::Shelf& shelf);

}  // namespace fadewright::app
