#include "edits_json.h"

#include "fadewright/render/fade_methods.h"

namespace fadewright::report {

nlohmann::ordered_json edits_json(const plan::Plan& before, const plan::Plan& after) {
    nlohmann::ordered_json json = nlohmann::ordered_json::array();
    const std::optional<std::size_t> coat = render::fade_coat_index(before);
    if (!coat) return json;
    for (const plan::TextEdit& edit : plan::fade_diff(before, after, *coat)) {
        if (edit.to) {
            json.push_back({{"set", edit.path}, {"to", *edit.to}});
        } else {
            json.push_back({{"delete", edit.path}});
        }
    }
    return json;
}

}  // namespace fadewright::report
