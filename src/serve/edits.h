// Edits of a plan's text as the page asks for them (text/edit.h), one after the other.
#pragma once

#include "api_message.h"

namespace fadewright::serve {

// All of them, or none and the reason.
[[nodiscard]] ApiResponse apply_edits(const ApiRequest& api_request);

}  // namespace fadewright::serve
