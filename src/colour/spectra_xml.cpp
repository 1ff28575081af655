#include "spectra_xml.h"

#include <algorithm>

namespace fadewright::colour {
namespace {

// The namespace of an element's prefix: the nearest declaration upwards.
std::string_view namespace_of(const pugi::xml_node& node) {
    const std::string_view name = node.name();
    const std::size_t colon = name.find(':');
    const std::string declared =
        colon == std::string_view::npos ? "xmlns" : "xmlns:" + std::string(name.substr(0, colon));
    for (pugi::xml_node ancestor = node; ancestor; ancestor = ancestor.parent())
        if (const pugi::xml_attribute attribute = ancestor.attribute(declared.c_str()))
            return attribute.value();
    return {};
}

std::size_t offset_of(const pugi::xml_node& node) {
    return static_cast<std::size_t>(std::max<std::ptrdiff_t>(node.offset_debug(), 0));
}

}  // namespace

std::string_view local_name(const pugi::xml_node& node) {
    const std::string_view name = node.name();
    const std::size_t colon = name.find(':');
    return colon == std::string_view::npos ? name : name.substr(colon + 1);
}

bool is_cxf(const pugi::xml_node& node, std::string_view name) {
    return node.type() == pugi::node_element && local_name(node) == name &&
           namespace_of(node) == kCxfNamespace;
}

pugi::xml_node child_of(const pugi::xml_node& parent, std::string_view name) {
    for (const pugi::xml_node& node : parent.children())
        if (is_cxf(node, name)) return node;
    return {};
}

std::vector<pugi::xml_node> children_of(const pugi::xml_node& parent, std::string_view name) {
    std::vector<pugi::xml_node> found;
    for (const pugi::xml_node& node : parent.children())
        if (is_cxf(node, name)) found.push_back(node);
    return found;
}

std::string text_of(const pugi::xml_node& node) {
    std::string text;
    for (const pugi::xml_node& part : node.children())
        if (part.type() == pugi::node_pcdata || part.type() == pugi::node_cdata) text += part.value();
    return to_utf8(trim(text));
}

SourceSpan span_of(const pugi::xml_node& node, const SpectraReader& reader) {
    const std::size_t begin = offset_of(node);
    return reader.span_at(begin, begin + std::string_view(node.name()).size());
}

std::vector<TextToken> text_tokens(const pugi::xml_node& node, const SpectraReader& reader) {
    std::vector<TextToken> tokens;
    const std::string_view file_text = reader.text();
    constexpr std::string_view kBlank = " \t\r\n";
    for (const pugi::xml_node& part : node.children()) {
        if (part.type() != pugi::node_pcdata) continue;
        const std::size_t begin = offset_of(part);
        const std::size_t end = std::min(file_text.find('<', begin), file_text.size());
        for (std::size_t offset = begin; offset < end;) {
            const std::size_t word = std::min(file_text.find_first_not_of(kBlank, offset), end);
            offset = std::min(file_text.find_first_of(kBlank, word), end);
            if (offset > word) tokens.push_back({file_text.substr(word, offset - word), word});
        }
    }
    return tokens;
}

}  // namespace fadewright::colour
