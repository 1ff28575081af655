#include "unknown_name.h"

#include <fmt/core.h>

namespace fadewright::plan {

void report_unknown(std::string rule, std::string_view noun, const Located<std::string>& name,
                    const std::vector<std::string>& known, Diagnostics& diagnostics) {
    const std::string_view close = closest_name(name.value, known);
    constexpr std::size_t kShown = 12;
    const std::string list =
        known.size() <= kShown ? "known: " + detail::join_text(known, ", ") : "the library lists all names";
    std::string hint = close.empty() ? list : fmt::format("did you mean '{}'?", close);
    if (known.empty()) hint = fmt::format("there is no {} in the library", noun);
    diagnostics.error(std::move(rule), name.span, fmt::format("no {} is called '{}'", noun, name.value),
                      std::move(hint));
}

}  // namespace fadewright::plan
