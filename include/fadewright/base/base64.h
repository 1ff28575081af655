// Bytes as text, for data: addresses (by GLib). Source: [rfc4648]..
#pragma once

#include <string>
#include <string_view>

namespace fadewright {

[[nodiscard]] std::string base64(std::string_view bytes);

}  // namespace fadewright
