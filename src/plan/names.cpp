#include "names.h"

#include <fmt/core.h>

namespace fadewright::plan {

void report_unknown(std::string rule, std::string_view thing, const Placed<std::string>& written,
                    const std::vector<std::string>& known, Diagnostics& diagnostics) {
    const std::string_view close = closest_name(written.value, known);
    constexpr std::size_t kShown = 12;
    const std::string list = known.size() <= kShown ? "known: " + reading::joined(known, ", ")
                                                    : "fadewright presets lists what is on the shelf";
    std::string hint = close.empty() ? list : fmt::format("did you mean '{}'?", close);
    if (known.empty()) hint = fmt::format("there is no {} on the shelf", thing);
    diagnostics.error(std::move(rule), written.place,
                      fmt::format("no {} is called '{}'", thing, written.value), std::move(hint));
}

}  // namespace fadewright::plan
