#include "svg_tags.h"

#include <algorithm>
#include <optional>

namespace fadewright::plan {
namespace {

constexpr std::string_view kSpace = " \t\r\n";
constexpr std::size_t kShown = 60;  // characters of a reference in a message

bool is_space(char c) { return kSpace.find(c) != std::string_view::npos; }

std::string_view without_prefix(std::string_view name) {
    const std::size_t colon = name.rfind(':');
    return colon == std::string_view::npos ? name : name.substr(colon + 1);
}

std::string_view trimmed(std::string_view text) {
    const std::size_t first = text.find_first_not_of(kSpace);
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(kSpace) - first + 1);
}

// The end of anything that is not an element: comments, character data, declarations and instructions.
std::size_t end_of_other(std::string_view text, std::size_t at) {
    const auto after = [&text, &at](std::string_view mark) {
        const std::size_t found = text.find(mark, at);
        return found == std::string_view::npos ? text.size() : found + mark.size();
    };
    if (text.substr(at).starts_with("<!--")) return after("-->");
    if (text.substr(at).starts_with("<![CDATA[")) return after("]]>");
    if (text.substr(at).starts_with("<?")) return after("?>");
    // A document type may contain declarations in brackets.
    const std::size_t close = text.find('>', at);
    const std::size_t bracket = text.find('[', at);
    if (bracket < close) at = after("]");
    return after(">");
}

// Reads the attributes of a tag from `at` on and moves it past the tag; true if the element is empty.
bool read_attributes(std::string_view text, std::size_t& at, SvgTag& tag) {
    while (at < text.size()) {
        while (at < text.size() && is_space(text[at])) ++at;
        if (at >= text.size() || text[at] == '>') break;
        if (text[at] == '/') {
            ++at;
            if (at < text.size() && text[at] == '>') {
                ++at;
                return true;
            }
            continue;
        }
        const std::size_t name = at;
        while (at < text.size() && !is_space(text[at]) && text[at] != '=' && text[at] != '>' &&
               text[at] != '/')
            ++at;
        const std::string_view key = text.substr(name, at - name);
        while (at < text.size() && is_space(text[at])) ++at;
        if (at >= text.size() || text[at] != '=') {
            if (key.empty()) ++at;
            continue;
        }
        ++at;
        while (at < text.size() && is_space(text[at])) ++at;
        if (at >= text.size() || (text[at] != '"' && text[at] != '\'')) continue;
        const char quote = text[at++];
        const std::size_t close = std::min(text.find(quote, at), text.size());
        tag.attributes.emplace_back(key, text.substr(at, close - at));
        at = std::min(close + 1, text.size());
    }
    at = std::min(at + 1, text.size());
    return false;
}

// The first url(...) or @import of a style that refers outside the drawing.
std::optional<std::string_view> external_style(std::string_view style) {
    if (const std::size_t import = style.find("@import"); import != std::string_view::npos)
        return style.substr(import, std::min(style.find(';', import), style.size()) - import);
    for (std::size_t at = style.find("url("); at != std::string_view::npos; at = style.find("url(", at + 1)) {
        std::string_view target = style.substr(at + 4, std::min(style.find(')', at), style.size()) - at - 4);
        target = trimmed(target);
        for (const char quote : {'"', '\''})
            if (target.size() >= 2 && target.front() == quote && target.back() == quote)
                target = target.substr(1, target.size() - 2);
        if (!target.starts_with('#') && !target.starts_with("data:")) return target;
    }
    return std::nullopt;
}

std::string shortened(std::string_view text) {
    return text.size() <= kShown ? std::string(text) : std::string(text.substr(0, kShown)) + "...";
}

std::optional<std::string_view> external_link(const SvgTag& tag) {
    if (tag.name != "a") {  // a link, nothing that is drawn
        const std::string_view target = trimmed(attribute(tag, "href"));
        if (!target.empty() && !target.starts_with('#') && !target.starts_with("data:")) return target;
    }
    if (tag.name == "style")
        if (const auto outside = external_style(tag.text)) return outside;
    for (const auto& [key, value] : tag.attributes)
        if (const auto outside = external_style(value)) return outside;
    return std::nullopt;
}

}  // namespace

std::vector<SvgTag> svg_tags(std::string_view text) {
    std::vector<SvgTag> tags;
    std::size_t depth = 0;
    for (std::size_t at = text.find('<'); at < text.size(); at = text.find('<', at)) {
        const char next = at + 1 < text.size() ? text[at + 1] : ' ';
        if (next == '!' || next == '?') {
            at = end_of_other(text, at);
            continue;
        }
        if (next == '/') {
            if (depth > 0) --depth;
            ++at;
            continue;
        }
        std::size_t end = at + 1;
        while (end < text.size() && !is_space(text[end]) && text[end] != '>' && text[end] != '/') ++end;
        SvgTag tag;
        tag.name = without_prefix(text.substr(at + 1, end - at - 1));
        tag.depth = depth;
        at = end;
        if (!read_attributes(text, at, tag)) {
            ++depth;
            // A style sheet may be wrapped as character data, which may contain '<'.
            const std::string_view stop = tag.name == "style" ? "</" : "<";
            tag.text = text.substr(at, std::min(text.find(stop, at), text.size()) - at);
        }
        tags.push_back(std::move(tag));
    }
    return tags;
}

std::string_view attribute(const SvgTag& tag, std::string_view name) {
    for (const auto& [key, value] : tag.attributes)
        if (without_prefix(key) == name) return value;
    return {};
}

std::string external_reference(const std::vector<SvgTag>& tags, std::string_view id) {
    bool taken = id.empty();
    std::size_t depth = 0;  // of the selected element
    for (const SvgTag& tag : tags) {
        if (!id.empty() && taken && tag.depth <= depth) taken = false;
        if (!taken && attribute(tag, "id") == id) {
            taken = true;
            depth = tag.depth;
        }
        if (const auto outside = external_link(tag))
            return "refers to " + shortened(*outside) + ", which is outside the drawing: embed it";
        if (taken && (tag.name == "text" || tag.name == "foreignObject"))
            return "has text, which depends on the installed fonts: convert it to paths";
    }
    return {};
}

}  // namespace fadewright::plan
