// Names in a plan or card: finds what they mean, and reports those that mean nothing, with the closest one
// that does.
#pragma once

#include "fadewright/plan/library.h"
#include "fadewright/text/diagnostic.h"
#include "fadewright/text/field.h"

#include <string>
#include <vector>

namespace fadewright::plan {

// `noun` is the kind of thing ("gun"), `known` the existing names.
void report_unknown(std::string rule, std::string_view noun, const Located<std::string>& name,
                    const std::vector<std::string>& known, Diagnostics& diagnostics);

// The item of that name. Otherwise null, and the mistakes of its file are reported, or under the given rule
// that there is none.
[[nodiscard]] const paint::Paint* find_paint(std::string rule, std::string_view noun,
                                             const Located<std::string>& name, Library& library,
                                             Diagnostics& diagnostics);
[[nodiscard]] const Ground* find_ground(std::string rule, const Located<std::string>& name, Library& library,
                                        Diagnostics& diagnostics);
[[nodiscard]] const LibraryGun* find_gun(std::string rule, const Located<std::string>& name, Library& library,
                                         Diagnostics& diagnostics);
[[nodiscard]] const colour::Illuminant* find_light(std::string rule, const Located<std::string>& name,
                                                   Library& library, Diagnostics& diagnostics);

}  // namespace fadewright::plan
