// Elements of a CxF file by their local names, for any prefix, and their spans.
#pragma once

#include "spectra_common.h"

#include <pugixml.hpp>
#include <string_view>
#include <vector>

namespace fadewright::colour {

inline constexpr std::string_view kCxfNamespace = "http://colorexchangeformat.com/CxF3-core";

[[nodiscard]] std::string_view local_name(const pugi::xml_node& node);
[[nodiscard]] bool is_cxf(const pugi::xml_node& node, std::string_view name);

// The first child with that name, or an empty node; all children with that name.
[[nodiscard]] pugi::xml_node child_of(const pugi::xml_node& parent, std::string_view name);
[[nodiscard]] std::vector<pugi::xml_node> children_of(const pugi::xml_node& parent, std::string_view name);

// The same along several names.
template <class... Names>
[[nodiscard]] pugi::xml_node child_of(const pugi::xml_node& parent, std::string_view first, Names... rest) {
    return child_of(child_of(parent, first), rest...);
}

[[nodiscard]] std::string text_of(const pugi::xml_node& node);  // its own text, trimmed
[[nodiscard]] SourceSpan span_of(const pugi::xml_node& node, const SpectraReader& reader);

// A word of an element's text, with its offset in the file.
struct TextToken {
    std::string_view text;
    std::size_t begin;
};
[[nodiscard]] std::vector<TextToken> text_tokens(const pugi::xml_node& node, const SpectraReader& reader);

}  // namespace fadewright::colour
