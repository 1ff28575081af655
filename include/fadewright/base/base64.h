// Bytes as text, for data: addresses (RFC 4648, by GLib).
#pragma once

#include <string>
#include <string_view>

namespace fadewright {

[[nodiscard]] std::string base64(std::string_view bytes);

}  // namespace fadewright
