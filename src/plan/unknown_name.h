// Reporting names that do not exist, with the closest that does.
#pragma once

#include "fadewright/text/diagnostic.h"
#include "fadewright/text/schema.h"

#include <string>
#include <vector>

namespace fadewright::plan {

// `thing` is what was looked for ("gun"), `known` the names there are.
void report_unknown(std::string rule, std::string_view noun, const Located<std::string>& name,
                    const std::vector<std::string>& known, Diagnostics& diagnostics);

}  // namespace fadewright::plan
