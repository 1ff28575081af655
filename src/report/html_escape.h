// Text escaped for HTML.
#pragma once

#include <string>
#include <string_view>

namespace fadewright::report {

[[nodiscard]] std::string html_escape(std::string_view text);  // & < > "

}  // namespace fadewright::report
