// The failure of a command of the command line as a response to the page.
#pragma once

#include "api_message.h"
#include "fadewright/app/commands.h"

namespace fadewright::serve {

// The first error of its diagnostics if there are any, otherwise the error that the command printed. A
// printed hint that names options is left out: the page has none.
[[nodiscard]] ApiResponse command_failure(const app::Outcome& outcome);

}  // namespace fadewright::serve
