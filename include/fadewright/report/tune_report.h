// Report of a tuned fade: before and after, the improvement by each change, and the range under operator
// variability.
#pragma once

#include "fadewright/base/image.h"
#include "fadewright/render/tune.h"

#include <string>

namespace fadewright::report {

[[nodiscard]] std::string tune_text(const render::TuneResult& tuned, const std::string& title);
[[nodiscard]] std::string tune_json(const render::TuneResult& tuned, const std::string& title);
[[nodiscard]] Picture tune_plot(const render::TuneResult& tuned, const std::string& title);

}  // namespace fadewright::report
