// Report of a cross-section: as CSV, as JSON, as a short text, and as a plot.
#pragma once

#include "fadewright/base/image.h"
#include "fadewright/render/section.h"
#include "fadewright/text/display_units.h"

#include <string>

namespace fadewright::report {

[[nodiscard]] std::string section_csv(const render::Section& section);
[[nodiscard]] std::string section_json(const render::Section& section);
[[nodiscard]] std::string section_text(const render::Section& section, DisplayUnits units = {});

// Top: the colours along the line. Centre: L*, a*, b*. Bottom: dry film of every coat.
[[nodiscard]] Picture section_plot(const render::Section& section, const std::string& title,
                                   DisplayUnits units = {});

}  // namespace fadewright::report
