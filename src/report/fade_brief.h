// One way of making a fade in few words, for those who choose between several.
#pragma once

#include "fadewright/render/fade_way.h"

#include <string>
#include <vector>

namespace fadewright::report {

[[nodiscard]] std::string minutes_at_gun(Seconds time);  // "1:18"

[[nodiscard]] std::vector<std::string> fade_brief(const render::FadeWay& way);

}  // namespace fadewright::report
