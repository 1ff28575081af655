#include "embedded.h"
#include "fadewright/app/presets.h"

#include <algorithm>

namespace fadewright::app {

Result<plan::Shelf> open_shelf(const std::string& folder) {
    return plan::Shelf::open(embedded_presets(), folder);
}

std::optional<std::string> preset_text(std::string_view path) {
    const auto files = embedded_presets();
    const auto found =
        std::find_if(files.begin(), files.end(), [&](const EmbeddedFile& file) { return file.path == path; });
    return found == files.end() ? std::nullopt : std::optional<std::string>(found->text);
}

}  // namespace fadewright::app
