// One list of fields per thing; everything else follows from it.
//
// For a plain struct S, Schema<S> names every field once:
//
//     template <> struct Schema<Pass> {
//         static constexpr std::string_view name = "pass";
//         static constexpr std::string_view about = "one movement of the gun";
//         static constexpr auto fields = Fields{
//             Field{"speed", &Pass::speed, required, range(20_mm_s, 2000_mm_s), "travel over the panel"},
//             Field{"repeats", &Pass::repeats, optional, range(1, 50), "strokes laid on the same path"}};
//     };
//
// From that list come the reader with its checks and suggestions (read_thing), the canonical text
// (canonical_text) and the reference (text/reference.h). `optional` means: the struct's own initial value
// stands; the default is written nowhere else. A struct may have a member `Place place`; the reader fills it.
//
// Member types understood: double, int, bool, std::string, every Quantity, enums with Names<E>,
// std::optional, std::vector, Placed<T> (a value that remembers where it stood), std::vector<Named<T>> (a
// table whose keys are names of the user's choice) and other structs with a Schema. Others specialise
// Codec<T>.
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/text/field.h"
#include "fadewright/text/fields.h"
#include "fadewright/text/shown_units.h"
#include "fadewright/text/tree.h"
#include "fadewright/text/units.h"

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

// One reading of one text.
struct Reading {
    Diagnostics& diagnostics;
    bool whole = true;  // false: syntax errors left holes, so a missing field is no news
};

// What a codec needs to know of the field it reads, for its messages.
struct FieldWords {
    std::string_view name;
    std::string_view about;
    Limits limits;
};

// Codec<T>: read() fills `out` or reports and returns false; inline_text() is the canonical value;
// type_words() explains the type. Structs print as sections instead.
template <class T>
struct Codec;

namespace reading {  // the parts of the reader that do not depend on the type
bool wrong_kind(const Node& node, const FieldWords& field, std::string_view wanted, Reading& reading,
                std::string_view example = {});
bool in_range(double inner, const Node& node, const FieldWords& field, std::string_view shown,
              const std::string& allowed, Reading& reading);
bool count_allowed(std::size_t count, const Node& node, const FieldWords& field, Reading& reading);
bool read_number(const Node& node, const FieldWords& field, Reading& reading, double& out);
bool read_whole_number(const Node& node, const FieldWords& field, Reading& reading, int& out);
bool read_truth(const Node& node, const FieldWords& field, Reading& reading, bool& out);
bool read_text(const Node& node, const FieldWords& field, Reading& reading, std::string& out);
bool read_choice(const Node& node, const FieldWords& field, const std::vector<std::string>& names,
                 Reading& reading, std::size_t& out);
bool read_quantity_node(const Node& node, const FieldWords& field, std::span<const Unit> units,
                        Reading& reading, double& out);
// One section while its fields are read.
class Section {
public:
    Section(const Node& table, std::string_view thing, Reading& reading);
    // Null if it is not written; where it must be, end() says so.
    [[nodiscard]] const Node* value_of(std::string_view name, std::string_view about, Presence presence,
                                       bool section);
    void note(bool good) { good_ = good && good_; }  // of a field that was read
    // Reports what is missing and what nobody knows; whether all was good.
    [[nodiscard]] bool end();

private:
    struct MissingField {
        std::string_view name, about;
        bool section;  // written as [name]
    };
    void report_missing(const std::vector<std::string>& explained);  // all but those

    const Node& table_;
    std::string_view thing_;
    Reading& reading_;
    std::vector<std::string> known_;
    std::vector<MissingField> missing_;
    bool good_ = true;
};
std::string section_hint(std::string_view name, const std::vector<std::string>& required_names);
std::string quoted(std::string_view text);
std::string key_text(std::string_view key);
// In US units the bounds are rounded inwards, so that what is told can be written.
std::string limits_words(const Limits& limits, std::span<const Unit> units, ShownUnits shown = {});
std::string joined(const std::vector<std::string>& parts, std::string_view between);
}  // namespace reading

template <>
struct Codec<double> {
    static bool read(const Node& node, const FieldWords& field, Reading& r, double& out) {
        return reading::read_number(node, field, r, out);
    }
    static std::string inline_text(double v) { return number_text(v); }
    static std::string type_words() { return "number"; }
    static std::string allowed_words(const Limits& l) { return reading::limits_words(l, {}); }
};

template <>
struct Codec<int> {
    static bool read(const Node& node, const FieldWords& field, Reading& r, int& out) {
        return reading::read_whole_number(node, field, r, out);
    }
    static std::string inline_text(int v) { return std::to_string(v); }
    static std::string type_words() { return "whole number"; }
    static std::string allowed_words(const Limits& l) { return reading::limits_words(l, {}); }
};

template <>
struct Codec<bool> {
    static bool read(const Node& node, const FieldWords& field, Reading& r, bool& out) {
        return reading::read_truth(node, field, r, out);
    }
    static std::string inline_text(bool v) { return v ? "true" : "false"; }
    static std::string type_words() { return "true or false"; }
    static std::string allowed_words(const Limits&) { return ""; }
};

template <>
struct Codec<std::string> {
    static bool read(const Node& node, const FieldWords& field, Reading& r, std::string& out) {
        return reading::read_text(node, field, r, out);
    }
    static std::string inline_text(const std::string& v) { return reading::quoted(v); }
    static std::string type_words() { return "text"; }
    static std::string allowed_words(const Limits&) { return ""; }
};

template <class Tag>
struct Codec<Quantity<Tag>> {
    using Q = Quantity<Tag>;
    static bool read(const Node& node, const FieldWords& field, Reading& r, Q& out) {
        return reading::read_quantity_node(node, field, units_of<Q>(), r, out.value);
    }
    static std::string inline_text(Q v) { return reading::quoted(to_text(v)); }
    static std::string type_words() { return "quantity in " + units_words(units_of<Q>()); }
    static std::string allowed_words(const Limits& l) { return reading::limits_words(l, units_of<Q>()); }
};

template <class E>
requires requires { Names<E>::list; }
struct Codec<E> {
    static std::vector<std::string> names() {
        std::vector<std::string> all;
        for (const auto& [value, name] : Names<E>::list) all.emplace_back(name);
        return all;
    }
    static bool read(const Node& node, const FieldWords& field, Reading& r, E& out) {
        std::size_t which = 0;
        if (!reading::read_choice(node, field, names(), r, which)) return false;
        out = Names<E>::list[which].first;
        return true;
    }
    static std::string inline_text(E v) { return reading::quoted(name_of(v)); }
    static std::string type_words() { return "word"; }
    static std::string allowed_words(const Limits&) { return "one of " + reading::joined(names(), ", "); }
};

template <class T>
struct Codec<std::optional<T>> {
    static bool read(const Node& node, const FieldWords& field, Reading& r, std::optional<T>& out) {
        T value{};
        if (!Codec<T>::read(node, field, r, value)) return false;
        out = std::move(value);
        return true;
    }
    static std::string type_words() { return Codec<T>::type_words(); }
    static std::string allowed_words(const Limits& l) { return Codec<T>::allowed_words(l); }
};

template <class T>
struct Codec<Placed<T>> {
    static bool read(const Node& node, const FieldWords& field, Reading& r, Placed<T>& out) {
        out.place = node.place;
        return Codec<T>::read(node, field, r, out.value);
    }
    static std::string inline_text(const Placed<T>& v) { return Codec<T>::inline_text(v.value); }
    static std::string type_words() { return Codec<T>::type_words(); }
    static std::string allowed_words(const Limits& l) { return Codec<T>::allowed_words(l); }
};

template <class T>
struct Codec<std::vector<T>> {
    static bool read(const Node& node, const FieldWords& field, Reading& r, std::vector<T>& out) {
        if (node.kind != Node::Kind::list)
            return reading::wrong_kind(node, field, "a list", r,
                                       Described<T> ? "write its heading in double brackets, [[...]]"
                                                    : "write its values in brackets: [ , ]");
        bool good = reading::count_allowed(node.items.size(), node, field, r);
        out.clear();
        // A list that is far too long has been reported; its tail would only repeat itself.
        for (const Node& item : std::span(node.items).first(std::min(node.items.size(), field.limits.most))) {
            T value{};
            if (Codec<T>::read(item, field, r, value)) {
                out.push_back(std::move(value));
            } else {
                good = false;
            }
        }
        return good;
    }
    static std::string inline_text(const std::vector<T>& v) {
        std::vector<std::string> parts;
        for (const T& item : v) parts.push_back(Codec<T>::inline_text(item));
        return "[" + reading::joined(parts, ", ") + "]";
    }
    static std::string type_words() { return "list of " + Codec<T>::type_words(); }
    static std::string allowed_words(const Limits& l) { return Codec<T>::allowed_words(l); }
};

template <class T>
struct Codec<std::vector<Named<T>>> {
    static bool read(const Node& node, const FieldWords& field, Reading& r, std::vector<Named<T>>& out) {
        if (node.kind != Node::Kind::table)
            return reading::wrong_kind(
                node, field, "a table of names", r,
                Described<T> ? "write a heading for each, with a name of your choice: [" +
                                   std::string(field.name) + ".NAME]"
                             : "write  " + std::string(field.name) + " = { NAME = 1, OTHER = 2 }");
        bool good = reading::count_allowed(node.entries.size(), node, field, r);
        out.clear();
        for (const Entry& entry : node.entries) {
            Named<T> named{entry.key, T{}, entry.key_place};
            good = Codec<T>::read(entry.value, field, r, named.value) && good;
            out.push_back(std::move(named));
        }
        return good;
    }
    static std::string inline_text(const std::vector<Named<T>>& v) {
        std::vector<std::string> parts;
        for (const Named<T>& item : v)
            parts.push_back(reading::key_text(item.name) + " = " + Codec<T>::inline_text(item.value));
        return parts.empty() ? "{}" : "{ " + reading::joined(parts, ", ") + " }";
    }
    static std::string type_words() { return "table of name = " + Codec<T>::type_words(); }
    static std::string allowed_words(const Limits& l) { return Codec<T>::allowed_words(l); }
};

template <Described S>
struct Codec<S> {
    static bool read(const Node& node, const FieldWords& field, Reading& r, S& out) {
        if (node.kind != Node::Kind::table)
            return reading::wrong_kind(node, field, "a section of its own", r,
                                       reading::section_hint(field.name, required_names()));
        if constexpr (requires { out.place; }) out.place = node.place;
        reading::Section section(node, Schema<S>::name, r);
        const auto one = [&](const auto& f) {
            using M = std::remove_cvref_t<decltype(out.*f.member)>;
            if (const Node* value = section.value_of(f.name, f.about, f.presence, kIsSection<M>))
                section.note(Codec<M>::read(*value, {f.name, f.about, f.limits}, r, out.*f.member));
        };
        Schema<S>::fields.each(one);
        return section.end();
    }
    static std::vector<std::string> required_names() {
        std::vector<std::string> names;
        const auto one = [&](const auto& f) {
            if (f.presence == Presence::required) names.emplace_back(f.name);
        };
        Schema<S>::fields.each(one);
        return names;
    }
    static std::string type_words() { return std::string(Schema<S>::name); }
    static std::string allowed_words(const Limits&) { return "see " + std::string(Schema<S>::name); }
};

// Reads a thing from a tree; everything wrong goes to the diagnostics. False if anything was wrong.
template <Described S>
bool read_thing(const ReadTree& tree, S& out, Diagnostics& diagnostics) {
    Reading reading{diagnostics, tree.whole};
    return Codec<S>::read(tree.root, {Schema<S>::name, Schema<S>::about, {}}, reading, out) && tree.whole;
}

namespace printing {

void print_line(std::string_view name, const std::string& value, std::string& out);  // name = value

template <Described S>
void print_fields(const S& thing, const std::string& path, std::string& out);

template <class M>
void print_section(std::string_view name, const M& value, const std::string& path, std::string& out) {
    const std::string here = path.empty() ? std::string(name) : path + "." + std::string(name);
    if constexpr (Described<M>) {
        out += "\n[" + here + "]\n";
        print_fields(value, here, out);
    } else if constexpr (requires { value.has_value(); }) {
        if (value) print_section(name, *value, path, out);
    } else if constexpr (requires {
                             value.front().name;
                             value.front().value;
                         }) {
        for (const auto& item : value) print_section(reading::key_text(item.name), item.value, here, out);
    } else {
        for (const auto& item : value) {
            out += "\n[[" + here + "]]\n";
            print_fields(item, here, out);
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

template <Described S>
void print_fields(const S& thing, const std::string& path, std::string& out) {
    const auto inlined = [&](const auto& f) {
        using M = std::remove_cvref_t<decltype(thing.*f.member)>;
        if constexpr (!kIsSection<M>) {
            if constexpr (requires { (thing.*f.member).empty(); })
                if ((thing.*f.member).empty() && f.limits.fewest > 0)
                    return;  // an empty list is not allowed: absent
            print_inline(f.name, thing.*f.member, out);
        }
    };
    const auto section = [&](const auto& f) {
        using M = std::remove_cvref_t<decltype(thing.*f.member)>;
        if constexpr (kIsSection<M>) print_section(f.name, thing.*f.member, path, out);
    };
    Schema<S>::fields.each(inlined);
    Schema<S>::fields.each(section);
}

}  // namespace printing

// The thing with every default filled in, as TOML; reading it back gives an equal thing.
template <Described S>
[[nodiscard]] std::string canonical_text(const S& thing) {
    std::string out;
    printing::print_fields(thing, "", out);
    return out;
}

}  // namespace fadewright
