// toml++ is header-only and slow to compile; only this file includes it.
#define TOML_EXCEPTIONS 1
#define TOML_ENABLE_WINDOWS_COMPAT 0
#if defined(__GNUC__)
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wconversion"
#pragma GCC diagnostic ignored "-Wsign-conversion"
#pragma GCC diagnostic ignored "-Wshadow"
#pragma GCC diagnostic ignored "-Wswitch-enum"
#endif
#include <toml++/toml.h>
#if defined(__GNUC__)
#pragma GCC diagnostic pop
#endif

#include "fadewright/text/tree.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <utility>

namespace fadewright {
namespace {

constexpr int kMaxSyntaxErrors = 20;

// More than any plan needs, and little enough for every stack: the tree is visited by recursion.
constexpr std::size_t kMaxDepth = 32;
constexpr std::size_t kMaxDots = 16;  // in one dotted name

SourceSpan span_of(const std::shared_ptr<const Source>& source, const toml::source_region& region) {
    const auto at = [&](const toml::source_position& p) { return source->offset({p.line, p.column}); };
    SourceSpan span{source, at(region.begin), at(region.end)};
    // A region may include the blanks after a value; the caret must not.
    while (span.end > span.begin + 1 &&
           std::isspace(static_cast<unsigned char>(source->text()[span.end - 1])))
        --span.end;
    return span;
}

struct NestingTooDeep {
    SourceSpan span;
};

Node convert_node(const std::shared_ptr<const Source>& source, const toml::node& from, std::size_t level);

Node convert_table(const std::shared_ptr<const Source>& source, const toml::table& from, std::size_t level) {
    Node node;
    node.kind = Node::Kind::table;
    for (const auto& [key, value] : from)
        node.entries.push_back(
            {std::string(key.str()), span_of(source, key.source()), convert_node(source, value, level)});
    std::stable_sort(node.entries.begin(), node.entries.end(),
                     [](const Entry& a, const Entry& b) { return a.key_span.begin < b.key_span.begin; });
    return node;
}

Node convert_node(const std::shared_ptr<const Source>& source, const toml::node& from, std::size_t level) {
    Node node;
    if (level == kMaxDepth) throw NestingTooDeep{span_of(source, from.source())};
    if (const auto* table = from.as_table()) {
        node = convert_table(source, *table, level + 1);
    } else if (const auto* list = from.as_array()) {
        node.kind = Node::Kind::list;
        for (const toml::node& item : *list) node.items.push_back(convert_node(source, item, level + 1));
    } else if (const auto* text = from.as_string()) {
        node.kind = Node::Kind::text;
        node.text = text->get();
    } else if (const auto* integer = from.as_integer()) {
        node.kind = Node::Kind::integer;
        node.integer = integer->get();
        node.number = static_cast<double>(node.integer);
    } else if (const auto* number = from.as_floating_point()) {
        node.kind = Node::Kind::number;
        node.number = number->get();
    } else if (const auto* boolean = from.as_boolean()) {
        node.kind = Node::Kind::boolean;
        node.boolean = boolean->get();
    }
    node.span = span_of(source, from.source());
    return node;
}

// Replaces one line by blanks, so that all other positions stay the same.
void blank_line(std::string& text, std::size_t line) {
    std::size_t start = 0;
    for (std::size_t i = 1; i < line; ++i) {
        const std::size_t next = text.find('\n', start);
        if (next == std::string::npos) return;
        start = next + 1;
    }
    for (std::size_t i = start; i < text.size() && text[i] != '\n'; ++i) text[i] = ' ';
}

bool looks_binary(const std::string& text) { return text.find('\0') != std::string::npos; }

// The position of a name with more dots than any plan needs, before the TOML reader recurses into it.
std::optional<std::size_t> find_overlong_name(std::string_view text) {
    std::size_t dots = 0;
    char quote = 0;
    bool comment = false;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        if (c == '\n') {
            dots = 0;
            quote = 0;
            comment = false;
        } else if (comment) {
            continue;
        } else if (quote != 0) {
            if (c == '\\' && quote == '"') ++i;
            if (c == quote) quote = 0;
        } else if (c == '"' || c == '\'') {
            quote = c;
        } else if (c == '#') {
            comment = true;
        } else if (c == '.') {
            if (++dots > kMaxDots) return i;
        } else if (std::string_view("=,[]{}").find(c) != std::string_view::npos) {
            dots = 0;
        }
    }
    return std::nullopt;
}

void report_depth(SourceSpan span, Diagnostics& diagnostics) {
    diagnostics.error("T001", std::move(span), "names, lists or tables are nested too deeply",
                      "no plan or library file is nested deeper than  [[coats.passes]]");
}

struct SyntaxMessage {
    std::string_view pattern;  // part of the TOML reader's own message
    std::string_view message, hint;
};

// Messages for the common mistakes; the first pattern that fits applies.
constexpr std::array kSyntaxMessages{
    SyntaxMessage{"unescaped control characters", "a text has no closing quote on its line",
                  "close it with a double quote"},
    SyntaxMessage{"expected a comment or whitespace", "unexpected text after the value",
                  "write one  name = value  per line; text and quantities in double quotes, \"150 mm\""},
    SyntaxMessage{"expected '='", "an equals sign is missing",
                  "write  name = value,  or the name of a section in brackets: [panel]"},
    SyntaxMessage{"expected value", "a value is missing",
                  "write  name = value;  text and quantities in double quotes"},
    SyntaxMessage{"could not determine value type", "this value cannot be read",
                  "put text and quantities in straight double quotes: \"150 mm\""},
    SyntaxMessage{"table header: expected", "the bracket of a section is not closed",
                  "close it: [panel]  or  [[coats]]"},
    SyntaxMessage{"exceeded maximum nested", "lists or tables are nested too deeply",
                  "no plan or library file is nested deeper than  [[coats.passes]]"},
    SyntaxMessage{"invalid utf-8", "the file is not UTF-8 text", "save the file as UTF-8 text"}};

// "cannot redefine existing string 'width'" -> "width"
std::string duplicate_name(std::string_view description) {
    constexpr std::string_view kPattern = "cannot redefine existing ";
    const auto at = description.find(kPattern);
    if (at == std::string_view::npos) return {};
    const auto open = description.find('\'', at), close = description.rfind('\'');
    if (open == std::string_view::npos || close <= open) return {};
    return std::string(description.substr(open + 1, close - open - 1));
}

void report_syntax(std::string_view description, SourceSpan span, Diagnostics& diagnostics) {
    for (const SyntaxMessage& known : kSyntaxMessages)
        if (description.find(known.pattern) != std::string_view::npos) {
            diagnostics.error("T001", std::move(span), std::string(known.message), std::string(known.hint));
            return;
        }
    if (const std::string name = duplicate_name(description); !name.empty()) {
        diagnostics.error("T001", std::move(span), fmt::format("'{}' is given twice", name),
                          "keep one; put sections that repeat in double brackets: [[coats]]");
        return;
    }
    constexpr std::string_view kNoise = "Error while parsing ";
    if (description.starts_with(kNoise)) description.remove_prefix(kNoise.size());
    diagnostics.error("T001", std::move(span), fmt::format("invalid TOML: {}", description),
                      "write  name = \"value\"  with text and quantities in double quotes, or a [section] "
                      "line");
}

}  // namespace

const Node* Node::find(std::string_view key) const {
    const auto found =
        std::find_if(entries.begin(), entries.end(), [&](const Entry& e) { return e.key == key; });
    return found == entries.end() ? nullptr : &found->value;
}

std::string_view kind_label(Node::Kind kind) {
    switch (kind) {
        case Node::Kind::table:
            return "a table";
        case Node::Kind::list:
            return "a list";
        case Node::Kind::text:
            return "text";
        case Node::Kind::number:
            return "a number";
        case Node::Kind::integer:
            return "a whole number";
        case Node::Kind::boolean:
            return "true or false";
        case Node::Kind::other:
            break;
    }
    return "a date or time";
}

std::optional<ParsedTree> read_toml(std::shared_ptr<const Source> source, Diagnostics& diagnostics) {
    if (looks_binary(source->text())) {
        diagnostics.error("T002", {source, 0, 0}, "this is not a text file",
                          "give a plan or library file saved as UTF-8 text");
        return std::nullopt;
    }
    if (const auto at = find_overlong_name(source->text())) {
        report_depth({source, *at, *at + 1}, diagnostics);
        return std::nullopt;
    }
    std::string text = source->text();
    ParsedTree result;
    bool broken_heading = false;  // after a broken heading, values would be read into the wrong section
    std::size_t last_line = 0;
    for (int attempt = 0; attempt < kMaxSyntaxErrors; ++attempt) {
        try {
            result.root = convert_table(source, toml::parse(text, source->name()), 0);
            result.root.span = {std::move(source), 0, 0};
            return broken_heading ? std::nullopt : std::optional(std::move(result));
        } catch (const NestingTooDeep& too_deep) {
            report_depth(too_deep.span, diagnostics);
            return std::nullopt;
        } catch (const toml::parse_error& error) {
            result.complete = false;
            const auto& region = error.source();
            report_syntax(error.description(), span_of(source, region), diagnostics);
            // An error may be noticed only on the next line; the same line is never blanked twice.
            std::size_t line = region.begin.line;
            if (line == last_line) line = line > 1 ? line - 1 : line + 1;
            if (line == last_line) break;
            last_line = line;
            const std::string_view bad_line = source->line(line);
            const auto first = bad_line.find_first_not_of(" \t");
            broken_heading = broken_heading || (first != std::string_view::npos && bad_line[first] == '[');
            blank_line(text, line);
        }
    }
    return std::nullopt;
}

}  // namespace fadewright
