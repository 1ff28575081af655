// Every index once, for any number of threads.
#include "fadewright/base/parallel.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <vector>

using namespace fadewright;

TEST_CASE("every index is processed once", "[base]") {
    for (const int threads : {1, 2, 7}) {
        const ThreadLimit limit(threads);
        for (const std::size_t count : {std::size_t{0}, std::size_t{1}, std::size_t{997}}) {
            std::vector<int> visits(count, 0);
            parallel_for(count, [&](std::size_t i) { ++visits[i]; });
            CHECK(std::count(visits.begin(), visits.end(), 1) == static_cast<std::ptrdiff_t>(count));
        }
    }
}
