// What ships with the program, for front ends that keep a shelf open.
#pragma once

#include "fadewright/base/result.h"
#include "fadewright/plan/library.h"

#include <optional>
#include <string>
#include <string_view>

namespace fadewright::app {

// The shipped shelf, with a folder of the painter's own in front of it if one is given.
[[nodiscard]] Result<plan::Library> open_library(const std::string& folder);

// A file of presets/ by its path there, "plans/dusk-fade.toml".
[[nodiscard]] std::optional<std::string> preset_text(std::string_view path);

}  // namespace fadewright::app
