// A section as text for a spreadsheet (CSV), for machines (JSON), in a few words, and as a plot.
#pragma once

#include "fadewright/base/image.h"
#include "fadewright/render/section.h"
#include "fadewright/text/display_units.h"

#include <string>

namespace fadewright::report {

[[nodiscard]] std::string section_csv(const render::Section& section);
[[nodiscard]] std::string section_json(const render::Section& section);
[[nodiscard]] std::string section_text(const render::Section& section, DisplayUnits units = {});

// Top: the colours seen, true along the line. Middle: L*, a*, b*. Bottom: film of every coat.
[[nodiscard]] Picture section_plot(const render::Section& section, const std::string& title,
                                   DisplayUnits units = {});

}  // namespace fadewright::report
