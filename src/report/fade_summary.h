// Summary of one fade method in a few words, for choosing between several.
#pragma once

#include "fadewright/render/fade_methods.h"

#include <string>
#include <vector>

namespace fadewright::report {

[[nodiscard]] std::vector<std::string> fade_summary(const render::FadeMethodResult& method);

}  // namespace fadewright::report
