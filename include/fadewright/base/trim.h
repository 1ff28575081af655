// Text without the blanks around it.
#pragma once

#include <string_view>

namespace fadewright {

// Without spaces, tabs and line ends at its ends; a part of the same text.
[[nodiscard]] constexpr std::string_view trim(std::string_view text) noexcept {
    constexpr std::string_view kBlank = " \t\r\n";
    const std::size_t first = text.find_first_not_of(kBlank);
    if (first == std::string_view::npos) return text.substr(text.size());
    return text.substr(first, text.find_last_not_of(kBlank) - first + 1);
}

}  // namespace fadewright
