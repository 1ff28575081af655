// One list of fields per struct; reader, canonical text, reference and command line follow from it.
//
// For a plain struct S, Schema<S> names every field once:
//
//     template <> struct Schema<Pass> {
//         static constexpr std::string_view name = "pass";
//         static constexpr std::string_view about = "one movement of the gun";
//         static constexpr auto fields = Fields{
//             Field{"speed", &Pass::speed, required, range(20_mm_s, 2000_mm_s), "travel over the panel"},
//             Field{"repeats", &Pass::repeats, optional, range(1, 50), "passes along the same path"}};
//     };
//
// From that list come the reader with its checks and suggestions (read_struct), the canonical text
// (canonical_text) and the reference (text/reference.h). `optional` means: the struct's own initial value
// applies; the default is written nowhere else. A struct may have a member `SourceSpan span`; the reader
// fills it.
//
// Member types: double, int, bool, std::string, every Quantity, enums with Names<E>, std::optional,
// std::vector, Located<T> (a value and its span), std::vector<Named<T>> (a table whose keys are names of the
// user's choice) and other structs with a Schema. Others specialise Codec<T>.
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/text/display_units.h"
#include "fadewright/text/field.h"
#include "fadewright/text/tree.h"
#include "fadewright/text/units.h"
#include "fadewright/text/unread_fields.h"

#include <algorithm>
#include <array>
#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <vector>

namespace fadewright {

// The state of reading one text.
struct ReadContext {
    Diagnostics& diagnostics;
    bool complete = true;  // false: syntax errors left gaps, so a missing field is not reported
    UnreadFields unread{};
};

// What a codec needs for the messages about the field it reads.
struct FieldContext {
    std::string_view name;
    std::string_view about;
    Limits limits;
};

// Codec<T>: read() fills `out` or reports and returns false; inline_text() is the canonical value;
// type_label() names the type, allowed_text() the values. Structs print as sections instead.
template <class T>
struct Codec;

namespace detail {  // parts of the reader that do not depend on the type
bool report_wrong_kind(const Node& node, const FieldContext& field, std::string_view expected,
                       ReadContext& context, std::string_view example = {});
bool check_range(double internal, const Node& node, const FieldContext& field, std::string_view display,
                 const std::string& allowed, ReadContext& context);
bool check_count(std::size_t count, const Node& node, const FieldContext& field, ReadContext& context);
bool read_number(const Node& node, const FieldContext& field, ReadContext& context, double& out);
bool read_integer(const Node& node, const FieldContext& field, ReadContext& context, int& out);
bool read_boolean(const Node& node, const FieldContext& field, ReadContext& context, bool& out);
bool read_text(const Node& node, const FieldContext& field, ReadContext& context, std::string& out);
bool read_choice(const Node& node, const FieldContext& field, const std::vector<std::string>& names,
                 ReadContext& context, std::size_t& out);
// A choice that is written as an integer, without quotes.
bool read_integer_choice(const Node& node, const FieldContext& field, const std::vector<std::string>& names,
                         ReadContext& context, std::size_t& out);
// "matt" for "matte", and the same for gray, center and aluminum, in each word between hyphens.
std::string british_spelling(std::string_view written);
bool read_quantity_node(const Node& node, const FieldContext& field, std::span<const Unit> units,
                        ReadContext& context, double& out);
// One section while its fields are read.
class Section {
public:
    Section(const Node& table, std::string_view struct_name, ReadContext& context);
    // Null if it is not written; finish() reports it if it is required.
    [[nodiscard]] const Node* take_field(std::string_view name, std::string_view about, Presence presence,
                                         bool section);
    // Of one field. Sections in it that could not be read completely are still there; any other value is not.
    void add_result(const FieldContext& field, const Node& value, bool ok, bool sections);
    // Reports missing and unknown names; true if all fields were read without errors.
    [[nodiscard]] bool finish();

private:
    struct MissingField {
        std::string_view name, about;
        bool section;  // written as [name]
    };
    void report_missing(const std::vector<std::string>& explained);  // all but those

    const Node& table_;
    std::string_view struct_name_;
    ReadContext& context_;
    std::vector<std::string> known_names_;
    std::vector<MissingField> missing_;
    bool ok_ = true;
};
std::string section_hint(std::string_view name, const std::vector<std::string>& required_names);
// A section with mistakes is kept with what could be read of it.
template <class T>
bool is_partly_read(const Node& node) {
    return HasSchema<T> && node.kind == Node::Kind::table;
}
std::string toml_string(std::string_view text);
std::string toml_key(std::string_view key);
// In US units the bounds are rounded inwards, so that every bound shown is accepted.
std::string limits_text(const Limits& limits, std::span<const Unit> units, DisplayUnits display = {});
std::string join_text(const std::vector<std::string>& parts, std::string_view between);
}  // namespace detail

template <>
struct Codec<double> {
    static bool read(const Node& node, const FieldContext& field, ReadContext& r, double& out) {
        return detail::read_number(node, field, r, out);
    }
    static std::string inline_text(double v) { return number_text(v); }
    static std::string type_label() { return "number"; }
    static std::string allowed_text(const Limits& l) { return detail::limits_text(l, {}); }
};

template <>
struct Codec<int> {
    static bool read(const Node& node, const FieldContext& field, ReadContext& r, int& out) {
        return detail::read_integer(node, field, r, out);
    }
    static std::string inline_text(int v) { return std::to_string(v); }
    static std::string type_label() { return "whole number"; }
    static std::string allowed_text(const Limits& l) { return detail::limits_text(l, {}); }
};

template <>
struct Codec<bool> {
    static bool read(const Node& node, const FieldContext& field, ReadContext& r, bool& out) {
        return detail::read_boolean(node, field, r, out);
    }
    static std::string inline_text(bool v) { return v ? "true" : "false"; }
    static std::string type_label() { return "true or false"; }
    static std::string allowed_text(const Limits&) { return ""; }
};

template <>
struct Codec<std::string> {
    static bool read(const Node& node, const FieldContext& field, ReadContext& r, std::string& out) {
        return detail::read_text(node, field, r, out);
    }
    static std::string inline_text(const std::string& v) { return detail::toml_string(v); }
    static std::string type_label() { return "text"; }
    static std::string allowed_text(const Limits&) { return ""; }
};

template <class Tag>
struct Codec<Quantity<Tag>> {
    using Q = Quantity<Tag>;
    static bool read(const Node& node, const FieldContext& field, ReadContext& r, Q& out) {
        return detail::read_quantity_node(node, field, units_of<Q>(), r, out.value);
    }
    static std::string inline_text(Q v) { return detail::toml_string(to_text(v)); }
    static std::string type_label() { return "quantity in " + units_label(units_of<Q>()); }
    static std::string allowed_text(const Limits& l) { return detail::limits_text(l, units_of<Q>()); }
};

template <class E>
requires requires { Names<E>::list; }
struct Codec<E> {
    static constexpr bool kIsInteger = requires { Names<E>::integers; };
    static std::vector<std::string> names() {
        std::vector<std::string> all;
        for (const auto& [value, name] : Names<E>::list) all.emplace_back(name);
        return all;
    }
    static bool read(const Node& node, const FieldContext& field, ReadContext& r, E& out) {
        std::size_t index = 0;
        const bool ok = kIsInteger ? detail::read_integer_choice(node, field, names(), r, index)
                                   : detail::read_choice(node, field, names(), r, index);
        if (ok) out = Names<E>::list[index].first;
        return ok;
    }
    static std::string inline_text(E v) {
        return kIsInteger ? std::string(name_of(v)) : detail::toml_string(name_of(v));
    }
    static std::string type_label() { return kIsInteger ? detail::join_text(names(), " or ") : "word"; }
    static std::string allowed_text(const Limits&) {
        return kIsInteger ? "" : "one of " + detail::join_text(names(), ", ");
    }
};

template <class T>
struct Codec<std::optional<T>> {
    static bool read(const Node& node, const FieldContext& field, ReadContext& r, std::optional<T>& out) {
        T value{};
        const bool ok = Codec<T>::read(node, field, r, value);
        if (ok || detail::is_partly_read<T>(node)) out = std::move(value);
        return ok;
    }
    static std::string type_label() { return Codec<T>::type_label(); }
    static std::string allowed_text(const Limits& l) { return Codec<T>::allowed_text(l); }
};

template <class T>
struct Codec<Located<T>> {
    static bool read(const Node& node, const FieldContext& field, ReadContext& r, Located<T>& out) {
        out.span = node.span;
        return Codec<T>::read(node, field, r, out.value);
    }
    static std::string inline_text(const Located<T>& v) { return Codec<T>::inline_text(v.value); }
    static std::string type_label() { return Codec<T>::type_label(); }
    static std::string allowed_text(const Limits& l) { return Codec<T>::allowed_text(l); }
};

template <class T>
struct Codec<std::vector<T>> {
    static bool read(const Node& node, const FieldContext& field, ReadContext& r, std::vector<T>& out) {
        if (node.kind != Node::Kind::list)
            return detail::report_wrong_kind(node, field, "a list", r,
                                             HasSchema<T> ? "write its heading in double brackets, [[...]]"
                                                          : "write its values in brackets: [ , ]");
        bool ok = detail::check_count(node.items.size(), node, field, r);
        out.clear();
        // A list that is far too long has been reported; its remaining items are not checked.
        for (const Node& item :
             std::span(node.items).first(std::min(node.items.size(), field.limits.max_items))) {
            T value{};
            const bool item_ok = Codec<T>::read(item, field, r, value);
            if (item_ok || detail::is_partly_read<T>(item)) out.push_back(std::move(value));
            ok = ok && item_ok;
        }
        return ok;
    }
    static std::string inline_text(const std::vector<T>& v) {
        std::vector<std::string> parts;
        for (const T& item : v) parts.push_back(Codec<T>::inline_text(item));
        return "[" + detail::join_text(parts, ", ") + "]";
    }
    static std::string type_label() { return "list of " + Codec<T>::type_label(); }
    static std::string allowed_text(const Limits& l) { return Codec<T>::allowed_text(l); }
};

template <class T>
struct Codec<std::vector<Named<T>>> {
    static bool read(const Node& node, const FieldContext& field, ReadContext& r,
                     std::vector<Named<T>>& out) {
        if (node.kind != Node::Kind::table)
            return detail::report_wrong_kind(
                node, field, "a table of names", r,
                HasSchema<T> ? "write a heading for each, with a name of your choice: [" +
                                   std::string(field.name) + ".NAME]"
                             : "write  " + std::string(field.name) + " = { NAME = 1, OTHER = 2 }");
        bool ok = detail::check_count(node.entries.size(), node, field, r);
        out.clear();
        for (const Entry& entry : node.entries) {
            Named<T> named{entry.key, T{}, entry.key_span};
            if (!Codec<T>::read(entry.value, field, r, named.value)) {
                ok = false;
                r.unread.add_section(entry.key_span);
            }
            out.push_back(std::move(named));
        }
        return ok;
    }
    static std::string inline_text(const std::vector<Named<T>>& v) {
        std::vector<std::string> parts;
        for (const Named<T>& item : v)
            parts.push_back(detail::toml_key(item.name) + " = " + Codec<T>::inline_text(item.value));
        return parts.empty() ? "{}" : "{ " + detail::join_text(parts, ", ") + " }";
    }
    static std::string type_label() { return "table of name = " + Codec<T>::type_label(); }
    static std::string allowed_text(const Limits& l) { return Codec<T>::allowed_text(l); }
};

template <HasSchema S>
struct Codec<S> {
    static bool read(const Node& node, const FieldContext& field, ReadContext& r, S& out) {
        if (node.kind != Node::Kind::table)
            return detail::report_wrong_kind(node, field, "a section of its own", r,
                                             detail::section_hint(field.name, required_names()));
        if constexpr (requires { out.span; }) out.span = node.span;
        detail::Section section(node, Schema<S>::name, r);
        const auto read_field = [&](const auto& f) {
            using M = std::remove_cvref_t<decltype(out.*f.member)>;
            const FieldContext own{f.name, f.about, f.limits};
            if (const Node* value = section.take_field(f.name, f.about, f.presence, kIsSection<M>))
                section.add_result(own, *value, Codec<M>::read(*value, own, r, out.*f.member), kIsSection<M>);
        };
        Schema<S>::fields.each(read_field);
        return section.finish();
    }
    static std::vector<std::string> required_names() {
        std::vector<std::string> names;
        const auto read_field = [&](const auto& f) {
            if (f.presence == Presence::required) names.emplace_back(f.name);
        };
        Schema<S>::fields.each(read_field);
        return names;
    }
    static std::string type_label() { return std::string(Schema<S>::name); }
    static std::string allowed_text(const Limits&) { return "see " + std::string(Schema<S>::name); }
};

// Reads a struct from a tree; every error goes to the diagnostics. False if there was any.
template <HasSchema S>
bool read_struct(const ParsedTree& tree, S& out, ReadContext& context) {
    context.complete = tree.complete;
    return Codec<S>::read(tree.root, {Schema<S>::name, Schema<S>::about, {}}, context, out) && tree.complete;
}

template <HasSchema S>
bool read_struct(const ParsedTree& tree, S& out, Diagnostics& diagnostics) {
    ReadContext context{diagnostics};
    return read_struct(tree, out, context);
}

namespace detail {

void print_line(std::string_view name, const std::string& value, std::string& out);  // name = value

template <HasSchema S>
void print_fields(const S& object, const std::string& path, std::string& out);

template <class M>
void print_section(std::string_view name, const M& value, const std::string& path, std::string& out) {
    const std::string full_path = path.empty() ? std::string(name) : path + "." + std::string(name);
    if constexpr (HasSchema<M>) {
        out += "\n[" + full_path + "]\n";
        print_fields(value, full_path, out);
    } else if constexpr (requires { value.has_value(); }) {
        if (value) print_section(name, *value, path, out);
    } else if constexpr (requires {
                             value.front().name;
                             value.front().value;
                         }) {
        for (const auto& item : value) print_section(detail::toml_key(item.name), item.value, full_path, out);
    } else {
        for (const auto& item : value) {
            out += "\n[[" + full_path + "]]\n";
            print_fields(item, full_path, out);
        }
    }
}

template <class M>
void print_inline(std::string_view name, const M& value, std::string& out) {
    if constexpr (requires { value.has_value(); }) {
        if (value) print_inline(name, *value, out);
    } else {
        print_line(name, Codec<M>::inline_text(value), out);
    }
}

template <HasSchema S>
void print_fields(const S& object, const std::string& path, std::string& out) {
    const auto inlined = [&](const auto& f) {
        using M = std::remove_cvref_t<decltype(object.*f.member)>;
        if constexpr (!kIsSection<M>) {
            if constexpr (requires { (object.*f.member).empty(); })
                if ((object.*f.member).empty() && f.limits.min_items > 0)
                    return;  // an empty list is not allowed: absent
            print_inline(f.name, object.*f.member, out);
        }
    };
    const auto section = [&](const auto& f) {
        using M = std::remove_cvref_t<decltype(object.*f.member)>;
        if constexpr (kIsSection<M>) print_section(f.name, object.*f.member, path, out);
    };
    Schema<S>::fields.each(inlined);
    Schema<S>::fields.each(section);
}

}  // namespace detail

// The struct with every default filled in, as TOML; reading it back gives an equal struct.
template <HasSchema S>
[[nodiscard]] std::string canonical_text(const S& object) {
    std::string out;
    detail::print_fields(object, "", out);
    return out;
}

}  // namespace fadewright
