// What a plan may hold: its fields from the schema, and the names on the shelf with their looks.
#pragma once

#include "answer.h"
#include "desk.h"

namespace fadewright::serve {

[[nodiscard]] Answer fields();
[[nodiscard]] Answer shelf_list(Desk& desk);

}  // namespace fadewright::serve
