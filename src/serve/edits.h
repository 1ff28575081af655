// Edits of a plan's text (text/edit.h) as the page requests them, applied one after the other.
#pragma once

#include "api_message.h"

namespace fadewright::serve {

// All of them, or none with the reason.
[[nodiscard]] ApiResponse apply_edits(const ApiRequest& api_request);

}  // namespace fadewright::serve
