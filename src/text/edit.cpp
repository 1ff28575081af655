#include "fadewright/text/edit.h"

#include "fadewright/text/schema.h"
#include "layout.h"

#include <fmt/core.h>

#include <algorithm>

namespace fadewright {
namespace {

using layout::begins_with;
using layout::Layout;
using layout::Path;
using layout::Section;
using layout::ValueSpan;

Error unknown_path(std::string_view path) { return {fmt::format("'{}' is not in the plan", path)}; }

struct EditTarget {
    Layout layout;
    Path path;
};

Result<EditTarget> find_target(const std::string& text, std::string_view path) {
    const std::optional<Path> keys = layout::parse_path(path);
    if (!keys) return unknown_path(path);
    Result<Layout> layout = Layout::parse(text);
    if (!layout) return layout.error();
    return EditTarget{std::move(layout).value(), *keys};
}

// Checks that the result is still TOML.
Result<std::string> check_toml(std::string text) {
    if (const Result<Layout> layout = Layout::parse(text); !layout)
        return Error{"that would break the plan file: the new text is not a TOML value"};
    return text;
}

std::string splice(const std::string& text, std::size_t begin, std::size_t end, std::string_view with) {
    std::string out = text.substr(0, begin);
    out += with;
    out += std::string_view(text).substr(end);
    return out;
}

// Inserts a line; the last line of the text may have no line feed yet.
std::string insert_line(const std::string& text, std::size_t at, std::string_view line) {
    const bool open = at > 0 && text[at - 1] != '\n';
    return splice(text, at, at, fmt::format("{}{}\n", open ? "\n" : "", line));
}

std::string end_with_newline(std::string block) {
    if (block.empty() || block.back() != '\n') block += '\n';
    return block;
}

bool ends_blank(std::string_view text) { return text.empty() || text == "\n" || text.ends_with("\n\n"); }

// Inserts a block with blank lines around it.
std::string insert_block(const std::string& text, std::size_t at, const std::string& block) {
    std::string before = text.substr(0, at);
    if (!before.empty()) before = end_with_newline(std::move(before));
    const std::string_view after = std::string_view(text).substr(at);
    std::string out = before;
    if (!ends_blank(before)) out += '\n';
    out += end_with_newline(block);
    if (!after.empty() && after.front() != '\n') out += '\n';
    out += after;
    return out;
}

// Erases the block and the blank lines after it, if there is one before it.
std::string erase_block(const std::string& text, std::size_t begin, std::size_t end) {
    if (ends_blank(std::string_view(text).substr(0, begin)))
        while (end < text.size() && text[end] == '\n') ++end;
    return splice(text, begin, end, "");
}

// After the section's last value, or after the last one that begins with the same keys, if there is one.
std::size_t insertion_offset(const Layout& layout, std::size_t section, const Path& prefix) {
    std::size_t at = section == 0 ? 0 : layout.sections()[section].body;
    bool found_like = false;
    for (const ValueSpan& value_span : layout.values()) {
        if (value_span.section != section) continue;
        const bool same = !prefix.empty() && begins_with(value_span.path, prefix);
        if (same || !found_like) at = value_span.line_end;
        found_like = found_like || same;
    }
    return at;
}

std::string insert_inline_key(const Layout& layout, const Node& table, const std::string& key,
                              std::string_view value) {
    const std::string& text = layout.text();
    if (table.entries.empty())
        return splice(text, table.span.begin, table.span.end, fmt::format("{{ {} = {} }}", key, value));
    const std::size_t at = table.entries.back().value.span.end;
    return splice(text, at, at, fmt::format(", {} = {}", key, value));
}

// The nearest section above a path; the remaining keys go to `rest`.
std::size_t nearest_section(const Layout& layout, const Path& path, Path& rest) {
    for (std::size_t size = path.size() - 1; size > 0; --size) {
        const Path above(path.begin(), path.begin() + static_cast<std::ptrdiff_t>(size));
        if (const std::optional<std::size_t> section = layout.section_of(above)) {
            rest.assign(path.begin() + static_cast<std::ptrdiff_t>(size), path.end());
            return *section;
        }
    }
    rest = path;
    return 0;
}

Result<std::string> add_key(const Layout& layout, const Path& path, std::string_view value) {
    const Path above(path.begin(), path.end() - 1);
    const Node* parent = layout.find(above);
    if (parent && parent->kind == Node::Kind::list) return unknown_path(layout::path_text(path));
    const bool in_braces =
        parent && !above.empty() && (layout.is_inside_value(path) || layout.is_inside_value(above));
    if (in_braces) return insert_inline_key(layout, *parent, detail::toml_key(path.back()), value);
    Path rest;
    const std::size_t section = nearest_section(layout, path, rest);
    const Path prefix = rest.size() > 1 ? Path(path.begin(), path.end() - 1) : Path{};
    const std::size_t at = insertion_offset(layout, section, prefix);
    return insert_line(layout.text(), at, fmt::format("{} = {}", layout::path_text(rest), value));
}

// Erases an entry or item within braces or brackets, and its comma.
std::string erase_inline_part(const Layout& layout, std::size_t begin, std::size_t end) {
    const std::string& text = layout.text();
    std::size_t after = end;
    while (after < text.size() && (text[after] == ' ' || text[after] == '\t')) ++after;
    if (after < text.size() && text[after] == ',') {
        ++after;
        while (after < text.size() && text[after] == ' ') ++after;
        return splice(text, begin, after, "");
    }
    std::size_t before = begin;
    while (before > 0 && (std::isspace(static_cast<unsigned char>(text[before - 1])) != 0)) --before;
    if (before > 0 && text[before - 1] == ',') return splice(text, before - 1, end, "");
    return splice(text, begin, end, "");
}

// Erases the lines of the value and of all values below it.
std::string erase_lines(const Layout& layout, const Path& path) {
    std::string text = layout.text();
    for (auto value_span = layout.values().rbegin(); value_span != layout.values().rend(); ++value_span)
        if (begins_with(value_span->path, path))
            text.erase(value_span->line, value_span->line_end - value_span->line);
    return text;
}

}  // namespace

Result<std::string> set_value(const std::string& text, std::string_view path, std::string_view value) {
    const Result<EditTarget> edit_target = find_target(text, path);
    if (!edit_target) return edit_target.error();
    const auto& [layout, keys] = edit_target.value();
    const Node* node = layout.find(keys);
    if (!node) {
        Result<std::string> added = add_key(layout, keys, value);
        return added ? check_toml(std::move(added).value()) : added;
    }
    const bool whole_value =
        layout.is_inside_value(keys) ||
        std::any_of(layout.values().begin(), layout.values().end(),
                    [&path = keys](const ValueSpan& value_span) { return value_span.path == path; });
    if (!whole_value) return Error{fmt::format("'{}' is a section, not a value", path)};
    return check_toml(splice(text, node->span.begin, node->span.end, value));
}

Result<std::string> erase_entry(const std::string& text, std::string_view path) {
    const Result<EditTarget> edit_target = find_target(text, path);
    if (!edit_target) return edit_target.error();
    const auto& [layout, keys] = edit_target.value();
    const Node* node = layout.find(keys);
    if (!node) return unknown_path(path);
    if (layout.is_inside_value(keys)) {
        const Entry* entry = layout.find_entry(keys);
        return check_toml(
            erase_inline_part(layout, entry ? entry->key_span.begin : node->span.begin, node->span.end));
    }
    std::string lines = erase_lines(layout, keys);
    const std::optional<Layout::Block> block = layout.block_of(keys);
    return check_toml(block ? erase_block(text, block->begin, block->end) : std::move(lines));
}

Result<std::string> move_item(const std::string& text, std::string_view path, std::string_view before) {
    const Result<EditTarget> edit_target = find_target(text, path);
    if (!edit_target) return edit_target.error();
    const auto& [layout, keys] = edit_target.value();
    const std::optional<Layout::Block> block = layout.block_of(keys);
    const std::optional<std::size_t> section = layout.section_of(keys);
    if (!block || !section || !layout.sections()[*section].is_list_item)
        return Error{fmt::format("'{}' is not an item of a list of sections", path)};
    const Path list(keys.begin(), keys.end() - 1);
    const std::optional<Path> target = before == "end" ? list : layout::parse_path(before);
    const std::optional<Layout::Block> target_block = target ? layout.block_of(*target) : std::nullopt;
    const bool same_list =
        before == "end" || (target && target->size() == keys.size() && begins_with(*target, list));
    if (!target_block || !same_list) return unknown_path(before);
    const std::size_t to = before == "end" ? target_block->end : target_block->begin;
    if (to >= block->begin && to <= block->end) return text;
    const std::string part = text.substr(block->begin, block->end - block->begin);
    if (to > block->end)
        return check_toml(erase_block(insert_block(text, to, part), block->begin, block->end));
    // Moved up: erase it first, so that the offsets above it stay valid.
    return check_toml(insert_block(erase_block(text, block->begin, block->end), to, part));
}

Result<std::string> copy_section(const std::string& text, std::string_view path, std::string_view name) {
    const Result<EditTarget> edit_target = find_target(text, path);
    if (!edit_target) return edit_target.error();
    const auto& [layout, keys] = edit_target.value();
    const std::optional<Layout::Block> block = layout.block_of(keys);
    if (!block) return Error{fmt::format("'{}' is not a section", path)};
    const std::string part = text.substr(block->begin, block->end - block->begin);
    if (name.empty()) return check_toml(insert_block(text, block->end, part));
    const Result<std::string> named = rename_key(part, path, name);
    if (!named) return named.error();
    return check_toml(insert_block(text, block->end, named.value()));
}

Result<std::string> add_section(const std::string& text, std::string_view path, std::string_view body) {
    const Result<EditTarget> edit_target = find_target(text, path);
    if (!edit_target) return edit_target.error();
    const auto& [layout, keys] = edit_target.value();
    if (layout.find(keys)) return Error{fmt::format("'{}' already exists", path)};
    const std::optional<Layout::Block> kind = layout.block_of({keys.front()});
    const std::optional<Layout::Block> coats = layout.block_of({"coats"});  // coats come last
    const std::size_t at = kind ? kind->end : coats ? coats->begin : text.size();
    return check_toml(insert_block(text, at, fmt::format("[{}]\n{}", path, body)));
}

Result<std::string> append_item(const std::string& text, std::string_view list, std::string_view body) {
    const Result<EditTarget> edit_target = find_target(text, list);
    if (!edit_target) return edit_target.error();
    const auto& [layout, keys] = edit_target.value();
    const Path parent(keys.begin(), keys.end() - 1);
    const std::optional<Layout::Block> others = layout.block_of(keys);
    const std::optional<Layout::Block> above = layout.block_of(parent);
    if (!parent.empty() && !layout.find(parent)) return unknown_path(list);
    if (!others && !parent.empty() && !above) return unknown_path(list);
    const std::size_t at = others ? others->end : parent.empty() ? text.size() : above->end;
    const std::string block = fmt::format("[[{}]]\n{}", layout::path_text(layout.heading_names(keys)), body);
    return check_toml(insert_block(text, at, block));
}

Result<std::string> rename_key(const std::string& text, std::string_view path, std::string_view name) {
    const Result<EditTarget> edit_target = find_target(text, path);
    if (!edit_target) return edit_target.error();
    const auto& [layout, keys] = edit_target.value();
    const Entry* entry = layout.find_entry(keys);
    if (!entry) return unknown_path(path);
    const std::string key = detail::toml_key(std::string(name));
    // From the last to the first, so that the offsets above stay valid.
    std::string out = text;
    for (auto section = layout.sections().rbegin(); section != layout.sections().rend(); ++section) {
        if (!begins_with(section->path, keys)) continue;
        Path names_now = layout.heading_names(section->path);
        names_now[layout.heading_names(keys).size() - 1] = std::string(name);
        const std::string names = layout::path_text(names_now);
        const std::string heading = section->is_list_item ? "[[" + names + "]]" : "[" + names + "]";
        const std::size_t open = text.find('[', section->heading);
        const std::size_t close = text.find(']', open) + (section->is_list_item ? 2 : 1);
        out = splice(out, open, close, heading);
    }
    if (out != text) return check_toml(std::move(out));
    return check_toml(splice(text, entry->key_span.begin, entry->key_span.end, key));
}

}  // namespace fadewright
