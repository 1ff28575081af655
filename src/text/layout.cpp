#include "layout.h"

#include "fadewright/text/schema.h"

#include <algorithm>
#include <map>

namespace fadewright::layout {
namespace {

bool is_bare(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' || c == '_';
}

bool is_number(const std::string& key) {
    return !key.empty() && key.size() < 6 &&
           std::all_of(key.begin(), key.end(), [](char c) { return c >= '0' && c <= '9'; });
}

void skip_blanks(std::string_view& text) {
    while (!text.empty() && (text.front() == ' ' || text.front() == '\t')) text.remove_prefix(1);
}

// Reads one key and removes it from the front.
std::optional<std::string> take_key(std::string_view& text) {
    skip_blanks(text);
    std::string key;
    if (!text.empty() && (text.front() == '"' || text.front() == '\'')) {
        const std::size_t close = text.find(text.front(), 1);
        if (close == std::string_view::npos) return std::nullopt;
        key = text.substr(1, close - 1);
        text.remove_prefix(close + 1);
    } else {
        while (!text.empty() && is_bare(text.front())) {
            key += text.front();
            text.remove_prefix(1);
        }
    }
    skip_blanks(text);
    return key.empty() ? std::nullopt : std::optional(key);
}

// Keys separated by dots, as many as there are.
std::optional<Path> take_path(std::string_view& text) {
    Path path;
    while (true) {
        std::optional<std::string> key = take_key(text);
        if (!key) return std::nullopt;
        path.push_back(*std::move(key));
        if (text.empty() || text.front() != '.') return path;
        text.remove_prefix(1);
    }
}

}  // namespace

std::optional<Path> parse_path(std::string_view text) {
    std::optional<Path> path = take_path(text);
    return path && text.empty() ? path : std::nullopt;
}

std::string path_text(const Path& path) {
    std::string text;
    for (const std::string& key : path) text += (text.empty() ? "" : ".") + detail::toml_key(key);
    return text;
}

bool begins_with(const Path& path, const Path& start) {
    return path.size() >= start.size() && std::equal(start.begin(), start.end(), path.begin());
}

Result<Layout> Layout::parse(const std::string& text) {
    Layout layout;
    layout.source_ = std::make_shared<const Source>("plan", text);
    Diagnostics diagnostics;
    std::optional<ParsedTree> tree = read_toml(layout.source_, diagnostics);
    if (!tree || !tree->complete) return Error{"the file has errors: fix them in a text editor first"};
    layout.root_ = std::move(tree->root);
    layout.collect_values(layout.root_, {});
    std::sort(layout.values_.begin(), layout.values_.end(),
              [](const ValueSpan& a, const ValueSpan& b) { return a.begin < b.begin; });
    layout.find_sections();
    return layout;
}

std::size_t Layout::line_begin(std::size_t offset) const {
    const std::size_t feed = offset == 0 ? std::string::npos : text().rfind('\n', offset - 1);
    return feed == std::string::npos ? 0 : feed + 1;
}

std::size_t Layout::line_end(std::size_t offset) const {
    const std::size_t feed = text().find('\n', offset);
    return feed == std::string::npos ? text().size() : feed + 1;
}

bool Layout::is_inline(const Node& node) const {
    if (node.kind != Node::Kind::table && node.kind != Node::Kind::list) return true;
    const char first = node.span.begin < text().size() ? text()[node.span.begin] : '\0';
    if (node.kind == Node::Kind::table) return first == '{';
    return node.items.empty() || node.items.front().kind != Node::Kind::table ||
           is_inline(node.items.front());
}

void Layout::collect_values(const Node& node, const Path& path) {
    const auto below = [&](const std::string& key, const Node& value) {
        Path item_path = path;
        item_path.push_back(key);
        if (!is_inline(value)) return collect_values(value, item_path);
        const std::size_t last = std::max(value.span.begin + 1, value.span.end) - 1;
        values_.push_back(
            {item_path, line_begin(value.span.begin), value.span.begin, value.span.end, line_end(last), 0});
    };
    for (const Entry& entry : node.entries) below(entry.key, entry.value);
    for (std::size_t i = 0; i < node.items.size(); ++i) below(std::to_string(i), node.items[i]);
}

void Layout::find_sections() {
    sections_.push_back({});
    std::map<std::string, std::size_t> items;  // items of each list so far
    std::size_t value = 0;
    for (std::size_t offset = 0; offset < text().size(); offset = line_end(offset)) {
        while (value < values_.size() && values_[value].end <= offset) ++value;
        if (value < values_.size() && values_[value].begin < offset) continue;  // within a value
        std::string_view line = std::string_view(text()).substr(offset, line_end(offset) - offset);
        skip_blanks(line);
        if (line.empty() || line.front() != '[') continue;
        const bool item = line.size() > 1 && line[1] == '[';
        line.remove_prefix(item ? 2 : 1);
        const std::optional<Path> names = take_path(line);
        if (!names) continue;
        Section section;
        section.is_list_item = item;
        for (std::size_t i = 0; i < names->size(); ++i) {
            section.path.push_back((*names)[i]);
            const std::string list = path_text(section.path);
            const bool begins = item && i + 1 == names->size();
            if (begins) ++items[list];
            if (const auto found = items.find(list); found != items.end())
                section.path.push_back(std::to_string(found->second - 1));
        }
        section.heading = section.begin = offset;
        section.body = section.content_end = line_end(offset);
        while (section.begin > 0) {  // comments directly above
            const std::size_t above = line_begin(section.begin - 1);
            std::string_view comment = std::string_view(text()).substr(above, section.begin - above);
            skip_blanks(comment);
            if (comment.empty() || comment.front() != '#') break;
            section.begin = above;
        }
        sections_.push_back(section);
    }
    for (ValueSpan& value_span : values_) {
        const auto behind = std::upper_bound(
            sections_.begin() + 1, sections_.end(), value_span.begin,
            [](std::size_t offset, const Section& section) { return offset < section.heading; });
        value_span.section = static_cast<std::size_t>(behind - sections_.begin()) - 1;
        Section& section_of_value = sections_[value_span.section];
        section_of_value.content_end = std::max(section_of_value.content_end, value_span.line_end);
    }
}

const Node* Layout::find(const Path& path) const {
    const Node* node = &root_;
    for (const std::string& key : path) {
        if (node->kind == Node::Kind::list) {
            if (!is_number(key) || std::stoul(key) >= node->items.size()) return nullptr;
            node = &node->items[std::stoul(key)];
        } else {
            node = node->find(key);
        }
        if (!node) return nullptr;
    }
    return node;
}

Path Layout::heading_names(const Path& path) const {
    Path names;
    const Node* above = &root_;
    for (const std::string& key : path) {
        const bool number = above && above->kind == Node::Kind::list;
        if (!number) names.push_back(key);
        if (above)
            above = number && is_number(key) && std::stoul(key) < above->items.size()
                        ? &above->items[std::stoul(key)]
                        : above->find(key);
    }
    return names;
}

const Entry* Layout::find_entry(const Path& path) const {
    const Node* parent = find(Path(path.begin(), path.end() - 1));
    if (!parent) return nullptr;
    for (const Entry& entry : parent->entries)
        if (entry.key == path.back()) return &entry;
    return nullptr;
}

bool Layout::is_inside_value(const Path& path) const {
    return std::any_of(values_.begin(), values_.end(), [&](const ValueSpan& value_span) {
        return value_span.path.size() < path.size() && begins_with(path, value_span.path);
    });
}

std::optional<std::size_t> Layout::section_of(const Path& path) const {
    for (std::size_t i = 0; i < sections_.size(); ++i)
        if (sections_[i].path == path) return i;
    return std::nullopt;
}

std::optional<Layout::Block> Layout::block_of(const Path& path) const {
    std::optional<Block> block;
    for (const Section& section : sections_)
        if (!section.path.empty() && begins_with(section.path, path)) {
            if (!block) block = Block{section.begin, section.content_end};
            block->end = section.content_end;
        }
    return block;
}

}  // namespace fadewright::layout
