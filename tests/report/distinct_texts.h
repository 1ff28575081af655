// That every enumerator has a phrase of its own.
#pragma once

#include <catch2/catch.hpp>

#include <set>
#include <string>

namespace fadewright::test {

template <class Enumerators, class Phrase>
void check_distinct_texts(const Enumerators& enumerators, const Phrase& phrase_of) {
    std::set<std::string> texts;
    for (const auto enumerator : enumerators) {
        const std::string text(phrase_of(enumerator));
        CHECK_FALSE(text.empty());
        CHECK(texts.insert(text).second);
    }
    CHECK(texts.size() == enumerators.size());
}

}  // namespace fadewright::test
