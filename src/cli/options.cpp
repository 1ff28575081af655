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

std::string option_help(const OptionSpec& spec) {
    std::string help = spec.about;
    if (!spec.allowed.empty()) help += " [" + spec.allowed + "]";
    if (!spec.default_value.empty()) help += " (default " + spec.default_value + ")";
    return help;
}

Node text_node(const std::string& field, const std::string& text) {
    Node node;
    node.kind = Node::Kind::text;
    node.from_cli = true;
    node.text = text;
    const std::string command_text = "--" + option_name(field) + " " + text;
    const auto source = std::make_shared<Source>("command line", command_text);
    node.span = {source, command_text.size() - text.size(), command_text.size()};
    return node;
}

}  // namespace

void add_flag(CLI::App& command, TypedOptions& options, const std::string& name, std::string_view about) {
    command.add_flag("--" + option_name(name), options.flags[name], std::string(about));
}

void add_option(CLI::App& command, TypedOptions& options, const OptionSpec& spec) {
    const std::string flag =
        spec.positional ? spec.name : (spec.name == "out" ? "-o,--out" : "--" + option_name(spec.name));
    CLI::Option* option = command.add_option(flag, options.texts[spec.name], option_help(spec));
    option->type_name(spec.positional ? "" : "TEXT");
    option->expected(1, spec.list ? 10000 : 1);
    if (!spec.positional && spec.list) option->expected(1)->take_all();
    if (spec.required) option->required();
}

ParsedTree options_tree(const TypedOptions& options, const std::vector<std::string>& list_fields) {
    ParsedTree tree;
    tree.root.kind = Node::Kind::table;
    for (const auto& [field, texts] : options.texts) {
        if (texts.empty()) continue;
        Entry entry{field, {}, text_node(field, texts.back())};
        if (std::find(list_fields.begin(), list_fields.end(), field) != list_fields.end()) {
            entry.value = Node{};
            entry.value.kind = Node::Kind::list;
            for (const std::string& text : texts) entry.value.items.push_back(text_node(field, text));
        }
        tree.root.entries.push_back(std::move(entry));
    }
    for (const auto& [field, set] : options.flags) {
        if (!set) continue;
        Node node;
        node.kind = Node::Kind::boolean;
        node.boolean = true;
        tree.root.entries.push_back({field, {}, node});
    }
    return tree;
}

app::Outcome command_error(const Diagnostics& diagnostics) {
    app::Outcome outcome;
    outcome.exit = app::Exit::usage_error;
    outcome.err = to_text(diagnostics);
    return outcome;
}

}  // namespace fadewright::cli
