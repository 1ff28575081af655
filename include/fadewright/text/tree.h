// A parsed TOML text before its meaning is known: tables, lists and values with their spans.
#pragma once

#include "fadewright/text/diagnostic.h"
#include "fadewright/text/source.h"

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace fadewright {

struct Entry;

struct Node {
    enum class Kind { table, list, text, number, integer, boolean, other };

    Kind kind = Kind::other;
    SourceSpan span;
    std::string text;            // Kind::text
    double number = 0.0;         // Kind::number and Kind::integer
    std::int64_t integer = 0;    // Kind::integer
    bool boolean = false;        // Kind::boolean
    bool from_cli = false;       // from a command line: a text may be a number or a boolean
    std::vector<Entry> entries;  // Kind::table, in the order written
    std::vector<Node> items;     // Kind::list

    [[nodiscard]] const Node* find(std::string_view key) const;
};

struct Entry {
    std::string key;
    SourceSpan key_span;
    Node value;
};

[[nodiscard]] std::string_view kind_label(Node::Kind kind);  // "a table", "text", ...

// Reads TOML 1.0 with toml++. A syntax error is reported and its line skipped, so that one run shows several;
// `complete` is false then, and missing fields may be missing only because of it.
struct ParsedTree {
    Node root;
    bool complete = true;
};
[[nodiscard]] std::optional<ParsedTree> read_toml(std::shared_ptr<const Source> source,
                                                  Diagnostics& diagnostics);

}  // namespace fadewright
