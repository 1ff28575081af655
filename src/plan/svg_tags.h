// The tags of an SVG text, as far as needed to find its references; librsvg reads the drawing itself.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace fadewright::plan {

struct SvgTag {
    std::string_view name;  // without its namespace's prefix
    std::vector<std::pair<std::string_view, std::string_view>> attributes;
    std::size_t depth = 0;  // of the element: 0 for the outermost
    std::string_view text;  // of the element, up to the next tag
};

// Opening tags in order, without comments and declarations; never fails.
[[nodiscard]] std::vector<SvgTag> svg_tags(std::string_view text);

// The value of an attribute by its name without prefix ("href" for "xlink:href"); empty if there is none.
[[nodiscard]] std::string_view attribute(const SvgTag& tag, std::string_view name);

// What the drawing needs from outside itself, as the end of a message; empty if nothing. With an id, text
// counts only inside that element.
[[nodiscard]] std::string external_reference(const std::vector<SvgTag>& tags, std::string_view id);

}  // namespace fadewright::plan
