// What a Schema is made of: fields, their limits, and values with their spans. See text/schema.h.
#pragma once

#include "fadewright/text/source.h"

#include <cstddef>
#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace fadewright {

template <class S>
struct Schema;

template <class S>
concept HasSchema = requires {
    Schema<S>::fields;
};

// A value and its span in the text; compares by the value alone.
template <class T>
struct Located {
    T value{};
    SourceSpan span;

    friend bool operator==(const Located& a, const Located& b) { return a.value == b.value; }
};

// A value under a name that the user chose: [mixes.plum].
template <class T>
struct Named {
    std::string name;
    T value{};
    SourceSpan span;

    friend bool operator==(const Named& a, const Named& b) { return a.name == b.name && a.value == b.value; }
};

// Names<E>::list: the words of an enum, in the order in which they are listed. If it also has a member
// `static constexpr bool integers = true`, they are integers and written without quotes.
template <class E>
struct Names;

template <class E>
[[nodiscard]] std::string_view name_of(E value) {
    for (const auto& [named, name] : Names<E>::list)
        if (named == value) return name;
    return "?";
}

// The allowed range: bounds of the value (in a list, of each item's value) and of the number of items.
struct Limits {
    double min = -std::numeric_limits<double>::infinity();
    double max = std::numeric_limits<double>::infinity();
    std::size_t min_items = 0;
    std::size_t max_items = 10'000;
};

template <class V>
constexpr double number_without_unit(V v) {
    if constexpr (requires { v.value; }) {
        return v.value;
    } else {
        return static_cast<double>(v);
    }
}

template <class V>
constexpr Limits range(V min, V max) {
    return {number_without_unit(min), number_without_unit(max)};
}

constexpr Limits items(std::size_t min_items, std::size_t max_items, Limits each = {}) {
    each.min_items = min_items;
    each.max_items = max_items;
    return each;
}

// Written as a section, [name] or [[name]], not on one line.
template <class T>
inline constexpr bool kIsSection = HasSchema<T>;
template <class T>
inline constexpr bool kIsSection<std::optional<T>> = kIsSection<T>;
template <class T>
inline constexpr bool kIsSection<std::vector<T>> = kIsSection<T>;
template <class T>
inline constexpr bool kIsSection<std::vector<Named<T>>> = kIsSection<T>;

enum class Presence { required, optional };
inline constexpr Presence required = Presence::required;
inline constexpr Presence optional = Presence::optional;

template <class S, class M>
struct Field {
    std::string_view name;
    M S::*member;
    Presence presence;
    Limits limits;
    std::string_view about;

    constexpr Field(std::string_view n, M S::*m, Presence p, Limits l, std::string_view a)
        : name(n), member(m), presence(p), limits(l), about(a) {}
    constexpr Field(std::string_view n, M S::*m, Presence p, std::string_view a)
        : name(n), member(m), presence(p), about(a) {}
};

}  // namespace fadewright
