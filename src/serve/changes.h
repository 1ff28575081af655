// Edits of a plan's text as the page asks for them (text/edit.h), one after the other.
#pragma once

#include "answer.h"

namespace fadewright::serve {

// All of them, or none and the reason.
[[nodiscard]] Answer changed(const Asked& asked);

}  // namespace fadewright::serve
