// The reference of a file format, generated from its Schema: one Markdown table per thing.
#pragma once

#include "fadewright/text/schema.h"

#include <string>
#include <vector>

namespace fadewright {

struct ReferenceRow {
    std::string name, type, allowed, initial, about;
};

struct ReferenceTable {
    std::string name, about;
    std::vector<ReferenceRow> rows;
};

namespace referring {

template <class M>
struct Inner {
    using Type = M;
};
template <class M>
struct Inner<std::optional<M>> : Inner<M> {};
template <class M>
struct Inner<std::vector<M>> : Inner<M> {};
template <class M>
struct Inner<Named<M>> : Inner<M> {};

template <class M>
std::string initial_text(const M& value) {
    if constexpr (requires { value.has_value(); }) {
        return value ? initial_text(*value) : "none";
    } else if constexpr (kIsSection<M>) {
        return "";
    } else {
        const std::string text = Codec<M>::inline_text(value);
        return text == "[]" || text == "{}" || text == "\"\"" ? "none" : text;
    }
}

template <Described S>
void add_tables(std::vector<ReferenceTable>& tables) {
    for (const ReferenceTable& table : tables)
        if (table.name == Schema<S>::name) return;
    const S initial{};
    const std::size_t mine = tables.size();
    tables.push_back({std::string(Schema<S>::name), std::string(Schema<S>::about), {}});
    const auto one = [&](const auto& f) {
        using M = std::remove_cvref_t<decltype(initial.*f.member)>;
        tables[mine].rows.push_back(
            {std::string(f.name), Codec<M>::type_words(), Codec<M>::allowed_words(f.limits),
             f.presence == Presence::required ? "required" : initial_text(initial.*f.member),
             std::string(f.about)});
        using Item = typename Inner<M>::Type;
        if constexpr (Described<Item>) add_tables<Item>(tables);
    };
    Schema<S>::fields.each(one);
}

}  // namespace referring

template <Described S>
[[nodiscard]] std::vector<ReferenceTable> reference_tables() {
    std::vector<ReferenceTable> tables;
    referring::add_tables<S>(tables);
    return tables;
}

[[nodiscard]] std::string reference_markdown(const std::vector<ReferenceTable>& tables);

}  // namespace fadewright
