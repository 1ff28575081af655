// Report of a tuned fade: before and after, the improvement by each change, and the range under operator
// variability.
#pragma once

#include "fadewright/assess/tune.h"
#include "fadewright/base/image.h"

#include <string>

namespace fadewright::report {

[[nodiscard]] std::string tune_text(const assess::TuneResult& tuned, const std::string& title);
[[nodiscard]] std::string tune_json(const assess::TuneResult& tuned, const std::string& title);
[[nodiscard]] Picture tune_plot(const assess::TuneResult& tuned, const std::string& title);

}  // namespace fadewright::report
