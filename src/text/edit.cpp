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
using layout::Written;

Refusal no_path(std::string_view path) { return {fmt::format("'{}' is not in the plan", path)}; }

struct Located {
    Layout layout;
    Path path;
};

Result<Located> located(const std::string& text, std::string_view path) {
    const std::optional<Path> keys = layout::path_of(path);
    if (!keys) return no_path(path);
    Result<Layout> layout = Layout::of(text);
    if (!layout) return layout.refusal();
    return Located{std::move(layout).value(), *keys};
}

// What came out must still be TOML.
Result<std::string> if_sound(std::string text) {
    if (const Result<Layout> layout = Layout::of(text); !layout)
        return Refusal{"that would not be a plan any more: a value is not written as one"};
    return text;
}

std::string spliced(const std::string& text, std::size_t begin, std::size_t end, std::string_view with) {
    std::string out = text.substr(0, begin);
    out += with;
    out += std::string_view(text).substr(end);
    return out;
}

// A line of its own at that place; the text's last line may have no end yet.
std::string with_line(const std::string& text, std::size_t at, std::string_view line) {
    const bool open = at > 0 && text[at - 1] != '\n';
    return spliced(text, at, at, fmt::format("{}{}\n", open ? "\n" : "", line));
}

std::string ended(std::string block) {
    if (block.empty() || block.back() != '\n') block += '\n';
    return block;
}

bool ends_blank(std::string_view text) { return text.empty() || text == "\n" || text.ends_with("\n\n"); }

// A block of its own at that place, blank lines around it.
std::string with_block(const std::string& text, std::size_t at, const std::string& block) {
    std::string before = text.substr(0, at);
    if (!before.empty()) before = ended(std::move(before));
    const std::string_view after = std::string_view(text).substr(at);
    std::string out = before;
    if (!ends_blank(before)) out += '\n';
    out += ended(block);
    if (!after.empty() && after.front() != '\n') out += '\n';
    out += after;
    return out;
}

// Without it, and without the blank lines that only it kept apart.
std::string without_block(const std::string& text, std::size_t begin, std::size_t end) {
    if (ends_blank(std::string_view(text).substr(0, begin)))
        while (end < text.size() && text[end] == '\n') ++end;
    return spliced(text, begin, end, "");
}

// Behind the section's last value; behind the last one that begins with the same keys, if there is one.
std::size_t place_for(const Layout& layout, std::size_t section, const Path& like) {
    std::size_t at = section == 0 ? 0 : layout.sections()[section].body;
    bool alike = false;
    for (const Written& written : layout.values()) {
        if (written.section != section) continue;
        const bool same = !like.empty() && begins_with(written.path, like);
        if (same || !alike) at = written.line_end;
        alike = alike || same;
    }
    return at;
}

std::string with_key_in_braces(const Layout& layout, const Node& table, const std::string& key,
                               std::string_view value) {
    const std::string& text = layout.text();
    if (table.entries.empty())
        return spliced(text, table.place.begin, table.place.end, fmt::format("{{ {} = {} }}", key, value));
    const std::size_t at = table.entries.back().value.place.end;
    return spliced(text, at, at, fmt::format(", {} = {}", key, value));
}

// The nearest section above a path, and the keys that are left.
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

Result<std::string> with_new_key(const Layout& layout, const Path& path, std::string_view value) {
    const Path above(path.begin(), path.end() - 1);
    const Node* parent = layout.find(above);
    if (parent && parent->kind == Node::Kind::list) return no_path(layout::path_text(path));
    const bool in_braces =
        parent && !above.empty() && (layout.within_value(path) || layout.within_value(above));
    if (in_braces) return with_key_in_braces(layout, *parent, reading::key_text(path.back()), value);
    Path rest;
    const std::size_t section = nearest_section(layout, path, rest);
    const Path like = rest.size() > 1 ? Path(path.begin(), path.end() - 1) : Path{};
    const std::size_t at = place_for(layout, section, like);
    return with_line(layout.text(), at, fmt::format("{} = {}", layout::path_text(rest), value));
}

// An entry or item within braces or brackets, with the comma that goes with it.
std::string without_part(const Layout& layout, std::size_t begin, std::size_t end) {
    const std::string& text = layout.text();
    std::size_t after = end;
    while (after < text.size() && (text[after] == ' ' || text[after] == '\t')) ++after;
    if (after < text.size() && text[after] == ',') {
        ++after;
        while (after < text.size() && text[after] == ' ') ++after;
        return spliced(text, begin, after, "");
    }
    std::size_t before = begin;
    while (before > 0 && (std::isspace(static_cast<unsigned char>(text[before - 1])) != 0)) --before;
    if (before > 0 && text[before - 1] == ',') return spliced(text, before - 1, end, "");
    return spliced(text, begin, end, "");
}

// Lines that hold nothing but the value or what lies below it.
std::string without_lines(const Layout& layout, const Path& path) {
    std::string text = layout.text();
    for (auto written = layout.values().rbegin(); written != layout.values().rend(); ++written)
        if (begins_with(written->path, path)) text.erase(written->line, written->line_end - written->line);
    return text;
}

}  // namespace

Result<std::string> with_value(const std::string& text, std::string_view path, std::string_view value) {
    const Result<Located> found = located(text, path);
    if (!found) return found.refusal();
    const auto& [layout, keys] = found.value();
    const Node* node = layout.find(keys);
    if (!node) {
        Result<std::string> added = with_new_key(layout, keys, value);
        return added ? if_sound(std::move(added).value()) : added;
    }
    const bool whole_value =
        layout.within_value(keys) ||
        std::any_of(layout.values().begin(), layout.values().end(),
                    [&path = keys](const Written& written) { return written.path == path; });
    if (!whole_value) return Refusal{fmt::format("'{}' is a section, not a value", path)};
    return if_sound(spliced(text, node->place.begin, node->place.end, value));
}

Result<std::string> without(const std::string& text, std::string_view path) {
    const Result<Located> found = located(text, path);
    if (!found) return found.refusal();
    const auto& [layout, keys] = found.value();
    const Node* node = layout.find(keys);
    if (!node) return no_path(path);
    if (layout.within_value(keys)) {
        const Entry* entry = layout.entry(keys);
        return if_sound(
            without_part(layout, entry ? entry->key_place.begin : node->place.begin, node->place.end));
    }
    std::string lines = without_lines(layout, keys);
    const std::optional<Layout::Block> block = layout.block_of(keys);
    return if_sound(block ? without_block(text, block->begin, block->end) : std::move(lines));
}

Result<std::string> moved(const std::string& text, std::string_view path, std::string_view before) {
    const Result<Located> found = located(text, path);
    if (!found) return found.refusal();
    const auto& [layout, keys] = found.value();
    const std::optional<Layout::Block> block = layout.block_of(keys);
    const std::optional<std::size_t> section = layout.section_of(keys);
    if (!block || !section || !layout.sections()[*section].item)
        return Refusal{fmt::format("'{}' is not an item of a list of sections", path)};
    const Path list(keys.begin(), keys.end() - 1);
    const std::optional<Path> target = before == "end" ? list : layout::path_of(before);
    const std::optional<Layout::Block> there = target ? layout.block_of(*target) : std::nullopt;
    const bool same_list =
        before == "end" || (target && target->size() == keys.size() && begins_with(*target, list));
    if (!there || !same_list) return no_path(before);
    const std::size_t to = before == "end" ? there->end : there->begin;
    if (to >= block->begin && to <= block->end) return text;
    const std::string part = text.substr(block->begin, block->end - block->begin);
    if (to > block->end) return if_sound(without_block(with_block(text, to, part), block->begin, block->end));
    // Before where it stood: take it out first, what lies above keeps its place.
    return if_sound(with_block(without_block(text, block->begin, block->end), to, part));
}

Result<std::string> copied(const std::string& text, std::string_view path, std::string_view name) {
    const Result<Located> found = located(text, path);
    if (!found) return found.refusal();
    const auto& [layout, keys] = found.value();
    const std::optional<Layout::Block> block = layout.block_of(keys);
    if (!block) return Refusal{fmt::format("'{}' is not a section", path)};
    const std::string part = text.substr(block->begin, block->end - block->begin);
    if (name.empty()) return if_sound(with_block(text, block->end, part));
    const Result<std::string> named = renamed(part, path, name);
    if (!named) return named.refusal();
    return if_sound(with_block(text, block->end, named.value()));
}

Result<std::string> with_section(const std::string& text, std::string_view path, std::string_view body) {
    const Result<Located> found = located(text, path);
    if (!found) return found.refusal();
    const auto& [layout, keys] = found.value();
    if (layout.find(keys)) return Refusal{fmt::format("there is a '{}' already", path)};
    const std::optional<Layout::Block> kind = layout.block_of({keys.front()});
    const std::optional<Layout::Block> coats = layout.block_of({"coats"});  // they come last
    const std::size_t at = kind ? kind->end : coats ? coats->begin : text.size();
    return if_sound(with_block(text, at, fmt::format("[{}]\n{}", path, body)));
}

Result<std::string> with_item(const std::string& text, std::string_view list, std::string_view body) {
    const Result<Located> found = located(text, list);
    if (!found) return found.refusal();
    const auto& [layout, keys] = found.value();
    const Path parent(keys.begin(), keys.end() - 1);
    const std::optional<Layout::Block> others = layout.block_of(keys);
    const std::optional<Layout::Block> above = layout.block_of(parent);
    if (!parent.empty() && !layout.find(parent)) return no_path(list);
    if (!others && !parent.empty() && !above) return no_path(list);
    const std::size_t at = others ? others->end : parent.empty() ? text.size() : above->end;
    const std::string block = fmt::format("[[{}]]\n{}", layout::path_text(layout.names_of(keys)), body);
    return if_sound(with_block(text, at, block));
}

Result<std::string> renamed(const std::string& text, std::string_view path, std::string_view name) {
    const Result<Located> found = located(text, path);
    if (!found) return found.refusal();
    const auto& [layout, keys] = found.value();
    const Entry* entry = layout.entry(keys);
    if (!entry) return no_path(path);
    const std::string key = reading::key_text(std::string(name));
    // The last first, so that what lies above keeps its place.
    std::string out = text;
    for (auto section = layout.sections().rbegin(); section != layout.sections().rend(); ++section) {
        if (!begins_with(section->path, keys)) continue;
        Path names_now = layout.names_of(section->path);
        names_now[layout.names_of(keys).size() - 1] = std::string(name);
        const std::string names = layout::path_text(names_now);
        const std::string heading = section->item ? "[[" + names + "]]" : "[" + names + "]";
        const std::size_t open = text.find('[', section->heading);
        const std::size_t close = text.find(']', open) + (section->item ? 2 : 1);
        out = spliced(out, open, close, heading);
    }
    if (out != text) return if_sound(std::move(out));
    return if_sound(spliced(text, entry->key_place.begin, entry->key_place.end, key));
}

}  // namespace fadewright
