// The library that ships with the program, for front ends that keep it open.
#pragma once

#include "fadewright/base/result.h"
#include "fadewright/plan/library.h"

#include <optional>
#include <string>
#include <string_view>

namespace fadewright::app {

// The shipped library; items of the user's folder, if one is given, come before it.
[[nodiscard]] Result<plan::Library> open_library(const std::string& folder);

// A file of presets/, by its path below that folder: "plans/dusk-fade.toml".
[[nodiscard]] std::optional<std::string> preset_text(std::string_view path);

}  // namespace fadewright::app
