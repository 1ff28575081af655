// Files to take away: the booth sheet, the client's pages, the picture, outlines at true size. They are made by the
// same commands as on the command line.
#pragma once

#include "answer.h"
#include "desk.h"

namespace fadewright::serve {

[[nodiscard]] Answer paper(Desk& desk, const Asked& asked);
// What `check --json` answers, byte for byte.
[[nodiscard]] Answer checked(Desk& desk, const Asked& asked);
// The ways of making the plan's fade, compared.
[[nodiscard]] Answer ways(Desk& desk, const Asked& asked);

}  // namespace fadewright::serve
