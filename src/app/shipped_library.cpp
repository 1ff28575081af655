#include "fadewright/app/shipped_library.h"
#include "embedded.h"

#include <algorithm>

namespace fadewright::app {

Result<plan::Library> open_library(const std::string& folder) {
    return plan::Library::open(embedded_presets(), folder);
}

std::optional<std::string> preset_text(std::string_view path) {
    const auto files = embedded_presets();
    const auto found =
        std::find_if(files.begin(), files.end(), [&](const EmbeddedFile& file) { return file.path == path; });
    return found == files.end() ? std::nullopt : std::optional<std::string>(found->text);
}

}  // namespace fadewright::app
