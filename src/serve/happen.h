// What will happen, in plain sentences with figures: how the fade comes out, what goes wrong, what it takes; and the
// colours along a line.
#pragma once

#include "answer.h"
#include "desk.h"

namespace fadewright::serve {

[[nodiscard]] Answer will_happen(Desk& desk, const Asked& asked);
[[nodiscard]] Answer along_line(Desk& desk, const Asked& asked);

}  // namespace fadewright::serve
