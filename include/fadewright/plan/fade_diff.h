// The difference between two fades as edits of the plan's text (text/edit.h), which keep everything else as
// written.
//
// Checks     tests/plan/fade_diff_test.cpp
#pragma once

#include "fadewright/plan/plan.h"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace fadewright::plan {

struct TextEdit {
    std::string path;               // "coats.0.fade.extend"
    std::optional<std::string> to;  // as written in a plan; nothing: the entry is removed
};

// All differences of the fade and of the gun's distance. Both plans have a fade in that coat (contract),
// around the same edge.
[[nodiscard]] std::vector<TextEdit> fade_diff(const Plan& before, const Plan& after, std::size_t coat);

}  // namespace fadewright::plan
