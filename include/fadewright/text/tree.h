// What was written, before anything is known about its meaning: tables, lists and values with places.
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
    double number = 0.0;         // Kind::number and Kind::whole
    std::int64_t integer = 0;    // Kind::whole
    bool boolean = false;        // Kind::truth
    bool from_cli = false;       // from a command line: a text may stand for a number or a truth
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

// Reads TOML 1.0 with toml++. A syntax error is reported and the line it stands on is passed over, so that
// one run shows several; `whole` is false then, and what is missing may only be missing because of it.
struct ParsedTree {
    Node root;
    bool complete = true;
};
[[nodiscard]] std::optional<ParsedTree> read_toml(std::shared_ptr<const Source> source,
                                                  Diagnostics& diagnostics);

}  // namespace fadewright
