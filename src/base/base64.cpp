#include "fadewright/base/base64.h"

#include <glib.h>

#include <memory>

namespace fadewright {

std::string base64(std::string_view bytes) {
    const std::unique_ptr<char, decltype(&g_free)> text(
        g_base64_encode(reinterpret_cast<const guchar*>(bytes.data()), bytes.size()), &g_free);
    return text.get();
}

}  // namespace fadewright
