#include "svg_tags.h"

#include "fadewright/base/strings.h"

#include <algorithm>
#include <functional>
#include <optional>

namespace fadewright::plan {
namespace {

constexpr std::size_t kShown = 60;  // characters of a reference in a message

std::string_view without_prefix(std::string_view name) {
    const std::size_t colon = name.rfind(':');
    return colon == std::string_view::npos ? name : name.substr(colon + 1);
}

// The value of an attribute by its name without prefix ("href" for "xlink:href"); empty if there is none.
std::string_view attribute(const pugi::xml_node& element, std::string_view name) {
    for (const pugi::xml_attribute& each : element.attributes())
        if (without_prefix(each.name()) == name) return each.value();
    return {};
}

// Calls `visit` with every element in order.
class ElementWalker : public pugi::xml_tree_walker {
public:
    using Visit = std::function<void(const pugi::xml_node& element, int depth)>;
    explicit ElementWalker(Visit visit) : visit_(std::move(visit)) {}
    bool for_each(pugi::xml_node& node) override {
        if (node.type() == pugi::node_element) visit_(node, depth());
        return true;
    }

private:
    Visit visit_;
};

void visit_elements(const pugi::xml_document& document, ElementWalker::Visit visit) {
    ElementWalker walker(std::move(visit));
    pugi::xml_node root = document;
    root.traverse(walker);
}

// The first url(...) or @import of a style that refers outside the drawing.
std::optional<std::string> external_style(std::string_view style) {
    if (const std::size_t import = style.find("@import"); import != std::string_view::npos)
        return std::string(style.substr(import, std::min(style.find(';', import), style.size()) - import));
    for (std::size_t at = style.find("url("); at != std::string_view::npos; at = style.find("url(", at + 1)) {
        std::string_view target = style.substr(at + 4, std::min(style.find(')', at), style.size()) - at - 4);
        target = trim(target);
        for (const char quote : {'"', '\''})
            if (target.size() >= 2 && target.front() == quote && target.back() == quote)
                target = target.substr(1, target.size() - 2);
        if (!target.starts_with('#') && !target.starts_with("data:")) return std::string(target);
    }
    return std::nullopt;
}

std::string shortened(const std::string& text) {
    return text.size() <= kShown ? text : text.substr(0, kShown) + "...";
}

std::optional<std::string> external_link(const pugi::xml_node& element, std::string_view name) {
    if (name != "a") {  // a link, nothing that is drawn
        const std::string_view target = trim(attribute(element, "href"));
        if (!target.empty() && !target.starts_with('#') && !target.starts_with("data:"))
            return std::string(target);
    }
    if (name == "style") {
        std::string style;  // may be in several pieces
        for (const pugi::xml_node& piece : element.children()) style += piece.value();
        if (auto outside = external_style(style)) return outside;
    }
    for (const pugi::xml_attribute& each : element.attributes())
        if (auto outside = external_style(each.value())) return outside;
    return std::nullopt;
}

}  // namespace

SvgTags::SvgTags(const std::string& bytes) {
    const pugi::xml_parse_result result =
        document_.load_buffer(bytes.data(), bytes.size(), pugi::parse_default | pugi::parse_doctype);
    if (!result) damage_ = result.description();
}

std::vector<std::string> SvgTags::ids() const {
    std::vector<std::string> ids;
    visit_elements(document_, [&](const pugi::xml_node& element, int) {
        if (const std::string_view id = attribute(element, "id"); !id.empty()) ids.emplace_back(id);
    });
    return ids;
}

std::string SvgTags::external_reference(std::string_view id) const {
    for (const pugi::xml_node& node : document_.children()) {
        if (node.type() != pugi::node_doctype) continue;
        const std::string_view declarations = node.value();
        for (const std::string_view hiding : {"<!ENTITY", "<!ATTLIST"})
            if (declarations.find(hiding) != std::string_view::npos)
                return "has " + std::string(hiding.substr(2)) +
                       " in its DOCTYPE, which can hide references: export it as plain SVG";
    }
    std::string found;
    bool taken = id.empty();
    int selected_depth = 0;
    visit_elements(document_, [&](const pugi::xml_node& element, int depth) {
        if (!found.empty()) return;
        if (!id.empty() && taken && depth <= selected_depth) taken = false;
        if (!taken && attribute(element, "id") == id) {
            taken = true;
            selected_depth = depth;
        }
        const std::string_view name = without_prefix(element.name());
        if (const auto outside = external_link(element, name))
            found = "refers to " + shortened(*outside) + ", which is outside the drawing: embed it";
        else if (taken && (name == "text" || name == "foreignObject"))
            found = "has text, which depends on the installed fonts: convert it to paths";
    });
    return found;
}

}  // namespace fadewright::plan
