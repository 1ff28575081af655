// Files to print or send: booth sheet, labels, proof, full-size outline, picture, job log. The commands of
// the command line make them.
#pragma once

#include "plan_requests.h"

namespace fadewright::serve {

[[nodiscard]] ApiResponse export_file(const Workspace& workspace, const ApiRequest& api_request, Task& task);

}  // namespace fadewright::serve
