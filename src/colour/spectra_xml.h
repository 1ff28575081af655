// Elements of a CxF file by their local names, whatever the prefix, and where they stand.
#pragma once

#include "spectra_common.h"

#include <pugixml.hpp>
#include <string_view>
#include <vector>

namespace fadewright::colour {

inline constexpr std::string_view kCxfNamespace = "http://colorexchangeformat.com/CxF3-core";

[[nodiscard]] std::string_view local_name(const pugi::xml_node& node);
[[nodiscard]] bool is_cxf(const pugi::xml_node& node, std::string_view name);

// The first child of that name, or an empty node; all children of that name.
[[nodiscard]] pugi::xml_node child_of(const pugi::xml_node& parent, std::string_view name);
[[nodiscard]] std::vector<pugi::xml_node> children_of(const pugi::xml_node& parent, std::string_view name);

// Goes down by several names.
template <class... Names>
[[nodiscard]] pugi::xml_node child_of(const pugi::xml_node& parent, std::string_view first, Names... rest) {
    return child_of(child_of(parent, first), rest...);
}

[[nodiscard]] std::string text_of(const pugi::xml_node& node);  // its own text, trimmed
[[nodiscard]] SourceSpan span_of(const pugi::xml_node& node, const SpectraReader& reader);

// A word of an element's text, with its place in the file.
struct TextToken {
    std::string_view text;
    std::size_t begin;
};
[[nodiscard]] std::vector<TextToken> text_tokens(const pugi::xml_node& node, const SpectraReader& reader);

}  // namespace fadewright::colour
