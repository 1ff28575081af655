#include "options.h"

#include <algorithm>

namespace fadewright::cli {
namespace {

// "after_coat" -> "after-coat"
std::string option_name(std::string_view field) {
    std::string name(field);
    std::replace(name.begin(), name.end(), '_', '-');
    return name;
}

std::string option_help(const OptionTold& told) {
    std::string help = told.about;
    if (!told.allowed.empty()) help += " [" + told.allowed + "]";
    if (!told.initial.empty()) help += " (default " + told.initial + ")";
    return help;
}

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

void add_flag(CLI::App& command, Typed& typed, const std::string& name, std::string_view about) {
    command.add_flag("--" + option_name(name), typed.flags[name], std::string(about));
}

void add_option(CLI::App& command, Typed& typed, const OptionTold& told) {
    const std::string flag =
        told.positional ? told.name : (told.name == "out" ? "-o,--out" : "--" + option_name(told.name));
    CLI::Option* option = command.add_option(flag, typed.texts[told.name], option_help(told));
    option->type_name(told.positional ? "" : "TEXT");
    option->expected(1, told.list ? 10000 : 1);
    if (!told.positional && told.list) option->expected(1)->take_all();
    if (told.required) option->required();
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
