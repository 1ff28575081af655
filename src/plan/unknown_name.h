// Reports a name that does not exist, with the closest one that does.
#pragma once

#include "fadewright/text/diagnostic.h"
#include "fadewright/text/schema.h"

#include <string>
#include <vector>

namespace fadewright::plan {

// `noun` is the kind of thing ("gun"), `known` the existing names.
void report_unknown(std::string rule, std::string_view noun, const Located<std::string>& name,
                    const std::vector<std::string>& known, Diagnostics& diagnostics);

}  // namespace fadewright::plan
