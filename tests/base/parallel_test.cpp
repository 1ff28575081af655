// Every index once, whatever the threads and however they take turns.
#include "fadewright/base/parallel.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <vector>

using namespace fadewright;

TEST_CASE("every index is worked on once", "[base]") {
    for (const int threads : {1, 2, 7}) {
        const ThreadLimit limit(threads);
        for (const std::size_t count : {std::size_t{0}, std::size_t{1}, std::size_t{997}}) {
            std::vector<int> visits(count, 0);
            for_each_index(count, [&](std::size_t i) { ++visits[i]; });
            CHECK(std::count(visits.begin(), visits.end(), 1) == static_cast<std::ptrdiff_t>(count));
        }
    }
}

TEST_CASE("turns cover every index once, the last turn shorter", "[base]") {
    for (const std::size_t count : {std::size_t{0}, std::size_t{1}, std::size_t{8}, std::size_t{997}})
        for (const std::size_t at_once : {std::size_t{1}, std::size_t{8}, std::size_t{2000}}) {
            std::vector<int> visits(count, 0);
            std::vector<std::size_t> lengths(count, 0);
            for_each_turn(count, at_once, [&](std::size_t first, std::size_t end) {
                for (std::size_t i = first; i < end; ++i) {
                    ++visits[i];
                    lengths[i] = end - first;
                }
            });
            CAPTURE(count, at_once);
            CHECK(std::count(visits.begin(), visits.end(), 1) == static_cast<std::ptrdiff_t>(count));
            for (std::size_t i = 0; i < count; ++i)
                CHECK(lengths[i] == std::min(at_once, count - i / at_once * at_once));
        }
}
