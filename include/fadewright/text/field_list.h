// The list of the fields of a struct, each of its own type.
//
//     constexpr auto fields = Fields{Field{...}, Field{...}} + kCommonFields;
//     fields.each([](const auto& field) { ... });
//
// Like a tuple, but faster to compile, since it only offers visiting.
#pragma once

#include <cstddef>
#include <utility>

namespace fadewright {

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
