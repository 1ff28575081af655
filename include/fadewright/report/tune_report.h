// A tuned fade: before and after, what each change bought, and what an unsteady hand makes of it.
#pragma once

#include "fadewright/base/image.h"
#include "fadewright/render/tune.h"

#include <string>

namespace fadewright::report {

[[nodiscard]] std::string tune_text(const render::TuneResult& tuned, const std::string& title);
[[nodiscard]] std::string tune_json(const render::TuneResult& tuned, const std::string& title);
[[nodiscard]] Picture tune_plot(const render::TuneResult& tuned, const std::string& title);

}  // namespace fadewright::report
