// Another name for a mix, in the text of a plan, wherever the plan uses it: other mixes' parts, coats, fades.
//
// Checks     tests/plan/rename_test.cpp
#pragma once

#include "fadewright/base/result.h"

#include <string>
#include <string_view>

namespace fadewright::plan {

// path: "mixes.NAME". Refuses names that are taken.
[[nodiscard]] Result<std::string> rename_mix(const std::string& text, std::string_view path,
                                             const std::string& name);

}  // namespace fadewright::plan
