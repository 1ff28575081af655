// Report of a cross-section: as CSV, as JSON, as a short text, and as a plot.
#pragma once

#include "fadewright/assess/section.h"
#include "fadewright/base/image.h"
#include "fadewright/text/display_units.h"

#include <string>

namespace fadewright::report {

[[nodiscard]] std::string section_csv(const assess::Section& section);
[[nodiscard]] std::string section_json(const assess::Section& section);
[[nodiscard]] std::string section_text(const assess::Section& section, DisplayUnits units = {});

// Top: the colours along the line. Centre: L*, a*, b*. Bottom: dry film of every coat.
[[nodiscard]] Picture section_plot(const assess::Section& section, const std::string& title,
                                   DisplayUnits units = {});

}  // namespace fadewright::report
