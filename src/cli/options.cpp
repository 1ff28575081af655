#include "options.h"

#include <algorithm>

namespace fadewright::cli {
namespace {

Node text_node(const std::string& field, const std::string& text) {
    Node node;
    node.kind = Node::Kind::text;
    node.loose = true;
    node.text = text;
    const std::string shown = "--" + option_name(field) + " " + text;
    const auto source = std::make_shared<Source>("command line", shown);
    node.place = {source, shown.size() - text.size(), shown.size()};
    return node;
}

}  // namespace

std::string option_name(std::string_view field) {
    std::string name(field);
    std::replace(name.begin(), name.end(), '_', '-');
    return name;
}

std::string option_help(std::string_view about, const std::string& allowed, const std::string& initial) {
    std::string help(about);
    if (!allowed.empty()) help += " [" + allowed + "]";
    if (!initial.empty()) help += " (default " + initial + ")";
    return help;
}

ReadTree typed_tree(const Typed& typed, const std::vector<std::string>& list_fields) {
    ReadTree tree;
    tree.root.kind = Node::Kind::table;
    for (const auto& [field, texts] : typed.texts) {
        if (texts.empty()) continue;
        Entry entry{field, {}, text_node(field, texts.back())};
        if (std::find(list_fields.begin(), list_fields.end(), field) != list_fields.end()) {
            entry.value = Node{};
            entry.value.kind = Node::Kind::list;
            for (const std::string& text : texts) entry.value.items.push_back(text_node(field, text));
        }
        tree.root.entries.push_back(std::move(entry));
    }
    for (const auto& [field, set] : typed.flags) {
        if (!set) continue;
        Node node;
        node.kind = Node::Kind::truth;
        node.truth = true;
        tree.root.entries.push_back({field, {}, node});
    }
    return tree;
}

app::Outcome wrong_command(const Diagnostics& diagnostics) {
    return {app::Exit::wrong_command, "", to_text(diagnostics)};
}

}  // namespace fadewright::cli
