#include "fadewright/film/surface.h"

#include "fadewright/film/flake_geometry.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

using namespace fadewright;
using namespace fadewright::film;

namespace {

constexpr double pi = std::numbers::pi;

// Total haze of a surface, of one unit of light incident at this angle: rings about the mirror direction.
double lobe_sum(double incidence_deg) {
    constexpr int rings = 400, parts = 180;
    constexpr double reach = 40 * pi / 180;  // eight standard deviations
    const double t = incidence_deg * pi / 180;
    double sum = 0;
    for (int i = 0; i < rings; ++i)
        for (int j = 0; j < parts; ++j) {
            const double off = reach * (i + 0.5) / rings, round = 2 * pi * (j + 0.5) / parts;
            const double z = std::cos(off) * std::cos(t) - std::sin(off) * std::cos(round) * std::sin(t);
            if (z <= 0) continue;
            const double ring = std::sin(off) * reach / rings * 2 * pi / parts;
            sum += haze_factor({}, Degrees{incidence_deg}, Degrees{off * 180 / pi}, z) * z / pi * ring;
        }
    return sum;
}

}  // namespace

TEST_CASE("haze reflects the light of Fresnel's law, no more", "[film][haze][property]") {
    for (const double incidence : {0.0, 20.0, 45.0, 60.0}) {
        CAPTURE(incidence);
        CHECK(lobe_sum(incidence) <= fresnel({}, Degrees{incidence}));
        CHECK(lobe_sum(incidence) == Approx(fresnel({}, Degrees{incidence})).epsilon(0.01));
    }
}

// Instruments read at 2, 5 and 15 degrees off the mirror direction. Source: [astmE430].
TEST_CASE("haze is strong at 2 and 5 degrees, weak at 15 and gone at 45", "[film][haze]") {
    const auto at = [](double off) { return haze_factor({}, Degrees{45}, Degrees{off}, 0.8); };
    CHECK(at(5) > 0.5 * at(2));
    CHECK(at(15) < 0.02 * at(2));
    CHECK(at(15) > 0.001 * at(2));
    CHECK(at(45) < 1e-15 * at(2));
}

TEST_CASE("a wider lamp makes the haze lower near its image and higher far from it", "[film][haze]") {
    const auto at = [](double off, double lamp) {
        return haze_factor({}, Degrees{20}, Degrees{off}, 0.9, Degrees{lamp});
    };
    CHECK(at(0, 10) == Approx(at(0, 0) / 5));  // 5^2 / (5^2 + 10^2)
    CHECK(at(25, 10) > at(25, 0));
}
