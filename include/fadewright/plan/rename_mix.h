// Renames a mix in the text of a plan, wherever the plan uses it: parts of other mixes, coats, fades.
//
// Checks     tests/plan/rename_mix_test.cpp
#pragma once

#include "fadewright/base/result.h"

#include <string>
#include <string_view>

namespace fadewright::plan {

// path: "mixes.NAME". Error if the name is in use.
[[nodiscard]] Result<std::string> rename_mix(const std::string& text, std::string_view path,
                                             const std::string& name);

}  // namespace fadewright::plan
