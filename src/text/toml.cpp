// toml++ is header-only and heavy; this is the one file that pays for it.
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

#include <algorithm>

namespace fadewright {
namespace {

constexpr int kMostSyntaxErrors = 20;

Place place_of(const std::shared_ptr<const Source>& source, const toml::source_region& region) {
    const auto at = [&](const toml::source_position& p) { return source->offset({p.line, p.column}); };
    Place place{source, at(region.begin), at(region.end)};
    // A region may run on over the blanks behind a value; a caret under blanks helps nobody.
    while (place.end > place.begin + 1 &&
           std::isspace(static_cast<unsigned char>(source->text()[place.end - 1])))
        --place.end;
    return place;
}

Node node_of(const std::shared_ptr<const Source>& source, const toml::node& from);

Node table_of(const std::shared_ptr<const Source>& source, const toml::table& from) {
    Node node;
    node.kind = Node::Kind::table;
    for (const auto& [key, value] : from)
        node.entries.push_back(
            {std::string(key.str()), place_of(source, key.source()), node_of(source, value)});
    std::stable_sort(node.entries.begin(), node.entries.end(),
                     [](const Entry& a, const Entry& b) { return a.key_place.begin < b.key_place.begin; });
    return node;
}

Node node_of(const std::shared_ptr<const Source>& source, const toml::node& from) {
    Node node;
    if (const auto* table = from.as_table()) {
        node = table_of(source, *table);
    } else if (const auto* list = from.as_array()) {
        node.kind = Node::Kind::list;
        for (const toml::node& item : *list) node.items.push_back(node_of(source, item));
    } else if (const auto* text = from.as_string()) {
        node.kind = Node::Kind::text;
        node.text = text->get();
    } else if (const auto* whole = from.as_integer()) {
        node.kind = Node::Kind::whole;
        node.whole = whole->get();
        node.number = static_cast<double>(node.whole);
    } else if (const auto* number = from.as_floating_point()) {
        node.kind = Node::Kind::number;
        node.number = number->get();
    } else if (const auto* truth = from.as_boolean()) {
        node.kind = Node::Kind::truth;
        node.truth = truth->get();
    }
    node.place = place_of(source, from.source());
    return node;
}

// The text with one line blanked out: every other place stays where it was.
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

std::string plain(std::string_view description) {
    std::string words(description);
    for (const std::string_view noise : {"Error while parsing ", "Encountered "})
        if (const auto at = words.find(noise); at == 0) words.erase(0, noise.size());
    return words;
}

}  // namespace

std::optional<ReadTree> read_toml(std::shared_ptr<const Source> source, Diagnostics& diagnostics) {
    if (looks_binary(source->text())) {
        diagnostics.error("T002", {source, 0, 0}, "this is not a text file",
                          "give a plan or preset file, written as plain UTF-8 text");
        return std::nullopt;
    }
    std::string text = source->text();
    ReadTree result;
    std::size_t last_line = 0;
    for (int tries = 0; tries < kMostSyntaxErrors; ++tries) {
        try {
            result.root = table_of(source, toml::parse(text, source->name()));
            result.root.place = {source, 0, 0};
            return result;
        } catch (const toml::parse_error& error) {
            result.whole = false;
            const auto& region = error.source();
            diagnostics.error("T001", place_of(source, region),
                              "cannot read this: " + plain(error.description()),
                              "write  key = \"value\"  with text and quantities in double quotes, or a "
                              "[section] line");
            // An error may be noticed on the line behind the one that is wrong; never blank the same line
            // twice.
            std::size_t line = region.begin.line;
            if (line == last_line) line = line > 1 ? line - 1 : line + 1;
            if (line == last_line) break;
            last_line = line;
            blank_line(text, line);
        }
    }
    return std::nullopt;
}

}  // namespace fadewright
