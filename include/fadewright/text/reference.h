// The reference of a file format, generated from its Schema: one Markdown table per struct.
#pragma once

#include "fadewright/text/schema.h"

#include <string>
#include <vector>

namespace fadewright {

struct ReferenceRow {
    std::string name, type, allowed, default_value, about;
};

struct ReferenceTable {
    std::string name, about;
    std::vector<ReferenceRow> rows;
};

namespace detail {

template <class M>
struct ItemOf {
    using Type = M;
};
template <class M>
struct ItemOf<std::optional<M>> : ItemOf<M> {};
template <class M>
struct ItemOf<std::vector<M>> : ItemOf<M> {};
template <class M>
struct ItemOf<Named<M>> : ItemOf<M> {};

template <class Tag>
std::string default_text(const Quantity<Tag>& value) {
    return toml_string(DisplayUnits().input_text(value));
}

template <class M>
std::string default_text(const M& value) {
    if constexpr (requires { value.has_value(); }) {
        return value ? default_text(*value) : "none";
    } else if constexpr (kIsSection<M>) {
        return "";
    } else {
        const std::string text = Codec<M>::inline_text(value);
        return text == "[]" || text == "{}" || text == "\"\"" ? "none" : text;
    }
}

template <HasSchema S>
void add_tables(std::vector<ReferenceTable>& tables) {
    for (const ReferenceTable& table : tables)
        if (table.name == Schema<S>::name) return;
    const S initial{};
    const std::size_t own = tables.size();
    tables.push_back({std::string(Schema<S>::name), std::string(Schema<S>::about), {}});
    const auto add_row = [&](const auto& f) {
        using M = std::remove_cvref_t<decltype(initial.*f.member)>;
        tables[own].rows.push_back(
            {std::string(f.name), Codec<M>::type_label(), Codec<M>::allowed_text(f.limits),
             f.presence == Presence::required ? "required" : default_text(initial.*f.member),
             std::string(f.about)});
        using Item = typename ItemOf<M>::Type;
        if constexpr (HasSchema<Item>) add_tables<Item>(tables);
    };
    Schema<S>::fields.each(add_row);
}

}  // namespace detail

template <HasSchema S>
[[nodiscard]] std::vector<ReferenceTable> reference_tables() {
    std::vector<ReferenceTable> tables;
    detail::add_tables<S>(tables);
    return tables;
}

[[nodiscard]] std::string reference_markdown(const std::vector<ReferenceTable>& tables);

}  // namespace fadewright
