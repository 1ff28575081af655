#include "names.h"

#include <fmt/format.h>

namespace fadewright::plan {

void report_unknown(std::string rule, std::string_view thing, const Placed<std::string>& written,
                    const std::vector<std::string>& known, Diagnostics& diagnostics) {
    const std::string_view close = closest_name(written.value, known);
    std::string hint = close.empty() ? fmt::format("known: {}", reading::joined(known, ", "))
                                     : fmt::format("did you mean '{}'?", close);
    if (known.empty()) hint = fmt::format("there is no {} on the shelf", thing);
    diagnostics.error(std::move(rule), written.place,
                      fmt::format("no {} is called '{}'", thing, written.value), std::move(hint));
}

}  // namespace fadewright::plan
