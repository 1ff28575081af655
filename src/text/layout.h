// The layout of a TOML text: its sections with their headings and comments, and its values.
#pragma once

#include "fadewright/base/result.h"
#include "fadewright/text/tree.h"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace fadewright::layout {

using Path = std::vector<std::string>;  // keys; within lists numbers

// "coats.1.passes.0.speed"; keys with other characters in double quotes. Empty if it is not a path.
[[nodiscard]] std::optional<Path> parse_path(std::string_view text);
[[nodiscard]] std::string path_text(const Path& path);
[[nodiscard]] bool begins_with(const Path& path, const Path& start);

// From one heading to the next. The first section has no heading: it is the top of the file.
struct Section {
    Path path;
    bool is_list_item = false;    // [[...]]
    std::size_t begin = 0;        // of the comments directly above the heading
    std::size_t heading = 0;      // of its line
    std::size_t body = 0;         // after it
    std::size_t content_end = 0;  // after the line of its last value
};

// A value of a section, not within another value.
struct ValueSpan {
    Path path;
    std::size_t line;        // where its line begins
    std::size_t begin, end;  // of the value
    std::size_t line_end;    // after the line it ends on
    std::size_t section;
};

class Layout {
public:
    [[nodiscard]] static Result<Layout> parse(const std::string& text);

    [[nodiscard]] const std::string& text() const { return source_->text(); }
    [[nodiscard]] const std::vector<Section>& sections() const { return sections_; }
    [[nodiscard]] const std::vector<ValueSpan>& values() const { return values_; }
    [[nodiscard]] const Node& root() const { return root_; }

    [[nodiscard]] const Node* find(const Path& path) const;
    // Without the numbers of lists, as headings name it.
    [[nodiscard]] Path heading_names(const Path& path) const;
    [[nodiscard]] const Entry* find_entry(const Path& path) const;  // if the last key is one of a table's
    // Whether it is in braces or brackets within a value.
    [[nodiscard]] bool is_inside_value(const Path& path) const;
    [[nodiscard]] std::optional<std::size_t> section_of(const Path& path) const;
    // The section of that path and all below it.
    struct Block {
        std::size_t begin = 0, end = 0;  // in the text, with the comments above
    };
    [[nodiscard]] std::optional<Block> block_of(const Path& path) const;
    [[nodiscard]] std::size_t line_begin(std::size_t offset) const;
    [[nodiscard]] std::size_t line_end(std::size_t offset) const;  // after its line feed

private:
    void collect_values(const Node& node, const Path& path);
    void find_sections();
    [[nodiscard]] bool is_inline(const Node& node) const;

    std::shared_ptr<const Source> source_;
    Node root_;
    std::vector<Section> sections_;
    std::vector<ValueSpan> values_;
};

}  // namespace fadewright::layout
