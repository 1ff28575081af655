// The record of a job: what was really mixed and sprayed, listed and added to by the command of that name.
#pragma once

#include "answer.h"
#include "desk.h"

namespace fadewright::serve {

[[nodiscard]] Answer record(Desk& desk, const Asked& asked);

}  // namespace fadewright::serve
