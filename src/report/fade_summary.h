// One way of making a fade in few words, for those who choose between several.
#pragma once

#include "fadewright/render/fade_methods.h"

#include <string>
#include <vector>

namespace fadewright::report {

[[nodiscard]] std::string trigger_time_text(Seconds time);  // "1:18"

[[nodiscard]] std::vector<std::string> fade_summary(const render::FadeMethodResult& method);

}  // namespace fadewright::report
