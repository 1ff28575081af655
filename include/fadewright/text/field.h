// What a Schema is made of: fields, their limits, and values with their spans. See text/schema.h.
#pragma once

#include "fadewright/text/source.h"

#include <cstddef>
#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
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

// The list of the fields of a struct, each of its own type.
//
//     constexpr auto fields = Fields{Field{...}, Field{...}} + kCommonFields;
//     fields.each([](const auto& field) { ... });
//
// Like a tuple, but faster to compile, since it only offers visiting.

namespace detail {
template <std::size_t index, class F>
struct FieldHolder {
    F field;
};

template <class Indices, class... F>
struct FieldListBase;

template <std::size_t... index, class... F>
struct FieldListBase<std::index_sequence<index...>, F...> : FieldHolder<index, F>... {
    constexpr explicit FieldListBase(const F&... all) : FieldHolder<index, F>{all}... {}

    template <class Visit>
    constexpr decltype(auto) all(const Visit& visit) const {
        return visit(this->FieldHolder<index, F>::field...);
    }
    template <class Visit>
    constexpr void each(const Visit& visit) const {
        (visit(this->FieldHolder<index, F>::field), ...);
    }
};
}  // namespace detail

template <class... F>
struct Fields : detail::FieldListBase<std::index_sequence_for<F...>, F...> {
    constexpr explicit Fields(const F&... all)
        : detail::FieldListBase<std::index_sequence_for<F...>, F...>(all...) {}
};

template <class... A, class... B>
constexpr Fields<A..., B...> operator+(const Fields<A...>& first, const Fields<B...>& second) {
    return first.all([&](const A&... a) {
        return second.all([&](const B&... b) { return Fields<A..., B...>(a..., b...); });
    });
}

}  // namespace fadewright
