// The list of a thing's fields, each of a type of its own.
//
//     constexpr auto fields = Fields{Field{...}, Field{...}} + kCommonFields;
//     fields.each([](const auto& field) { ... });
//
// It does what a tuple would; the compiler is through with it sooner, as nothing but visiting is asked of it.
#pragma once

#include <cstddef>
#include <utility>

namespace fadewright {

namespace listing {
template <std::size_t place, class F>
struct Held {
    F field;
};

template <class Places, class... F>
struct List;

template <std::size_t... place, class... F>
struct List<std::index_sequence<place...>, F...> : Held<place, F>... {
    constexpr explicit List(const F&... all) : Held<place, F>{all}... {}

    template <class Visit>
    constexpr decltype(auto) all(const Visit& visit) const {
        return visit(this->Held<place, F>::field...);
    }
    template <class Visit>
    constexpr void each(const Visit& visit) const {
        (visit(this->Held<place, F>::field), ...);
    }
};
}  // namespace listing

template <class... F>
struct Fields : listing::List<std::index_sequence_for<F...>, F...> {
    constexpr explicit Fields(const F&... all) : listing::List<std::index_sequence_for<F...>, F...>(all...) {}
};

template <class... A, class... B>
constexpr Fields<A..., B...> operator+(const Fields<A...>& first, const Fields<B...>& then) {
    return first.all([&](const A&... a) {
        return then.all([&](const B&... b) { return Fields<A..., B...>(a..., b...); });
    });
}

}  // namespace fadewright
