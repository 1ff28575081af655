// From one fade to another as edits of the plan's text (text/edit.h), so that choosing another way keeps all else as it
// was written.
//
// Checks     tests/plan/fade_edits_test.cpp
#pragma once

#include "fadewright/plan/plan.h"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace fadewright::plan {

struct TextEdit {
    std::string path;               // "coats.0.fade.extend"
    std::optional<std::string> to;  // as it is written in a plan; nothing: it is taken out
};

// Both plans hold a fade in that coat (contract), around the same rim; all that differs of the fade and of the gun's
// distance.
[[nodiscard]] std::vector<TextEdit> fade_diff(const Plan& before, const Plan& after, std::size_t coat);

}  // namespace fadewright::plan
