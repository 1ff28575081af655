// A text that the user wrote, and spans of it.
//
// The text layer reads plans, library files and command lines, keeps the span of every value, and collects
// all errors. Reading order: source.h, diagnostic.h, tree.h (the parsed TOML), units.h (quantities),
// schema.h (the fields of a struct).
#pragma once

#include <cstddef>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace fadewright {

// A byte order mark at the start is dropped. Finding a position takes the same time however long its line is.
class Source {
public:
    // `name` is shown in messages. The text lies in the folder of that path, or in `folder` if that is given.
    Source(std::string name, std::string text);
    Source(std::string name, std::string text, std::string folder);

    struct Position {
        std::size_t line;    // from 1
        std::size_t column;  // from 1, in characters, not bytes
    };

    [[nodiscard]] const std::string& name() const noexcept { return name_; }
    [[nodiscard]] const std::string& text() const noexcept { return text_; }
    [[nodiscard]] std::string sha256() const;  // of the text; calculated at every call
    // Where the files that the text names are found; empty: the current folder.
    [[nodiscard]] const std::string& folder() const noexcept { return folder_; }
    [[nodiscard]] Position position(std::size_t offset) const;
    [[nodiscard]] std::size_t offset(Position position) const;      // clamped to the text
    [[nodiscard]] std::string_view line(std::size_t number) const;  // without its line end

private:
    [[nodiscard]] std::size_t characters_before(std::size_t offset) const;

    std::string name_;
    std::string text_;
    std::string folder_;
    std::vector<std::size_t> line_starts_;
    std::vector<std::size_t> character_marks_;  // characters before every 256th byte
};

// A part of a source: bytes [begin, end). A span without a source belongs to no text.
struct SourceSpan {
    std::shared_ptr<const Source> source;
    std::size_t begin = 0;
    std::size_t end = 0;
};

// Characters of UTF-8 text (code points; good enough for columns and carets).
[[nodiscard]] std::size_t character_count(std::string_view text) noexcept;

}  // namespace fadewright
