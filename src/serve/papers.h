// Files to take away: the booth sheet, the client's pages, the picture, outlines at true size. They are made by the
// same commands as on the command line.
#pragma once

#include "answer.h"
#include "desk.h"
#include "errands.h"

namespace fadewright::serve {

[[nodiscard]] Answer paper(Desk& desk, const Asked& asked, Errand& errand);
// What `check --json` answers, byte for byte.
[[nodiscard]] Answer checked(Desk& desk, const Asked& asked);
// The search for a smoother fade; stopped by the page, it answers with the best so far.
[[nodiscard]] Answer tuned(Desk& desk, const Asked& asked, Errand& errand);
// The ways of making the plan's fade, compared.
[[nodiscard]] Answer ways(Desk& desk, const Asked& asked, Errand& errand);

}  // namespace fadewright::serve
