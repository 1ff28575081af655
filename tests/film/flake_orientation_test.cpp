#include "fadewright/film/wet_flakes.h"

#include "some_flakes.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

using namespace fadewright;
using namespace fadewright::film;

namespace {

paint::EffectPigment loose() {
    paint::EffectPigment flakes = film::test::lossless(0.5, 0.1, Degrees{6});
    flakes.nominal_wetness = Micrometres{32};
    flakes.wet_disorientation = Share{0.25};
    return flakes;
}

double slope(Degrees tilt) { return std::tan(tilt.value * std::numbers::pi / 180); }

}  // namespace

TEST_CASE("a coat no wetter than nominal has the paint's own tilt", "[film][orientation]") {
    for (const double wet : {0.0, 1.0, 20.0, 32.0})
        CHECK(tilt_when_wet(loose(), Micrometres{wet}) == Degrees{6});
}

TEST_CASE("each further coat wet in wet widens the slope by the same share", "[film][orientation]") {
    CHECK(slope(tilt_when_wet(loose(), Micrometres{64})) == Approx(1.25 * slope(Degrees{6})));
    CHECK(slope(tilt_when_wet(loose(), Micrometres{96})) == Approx(1.5 * slope(Degrees{6})));
    double last = 6;
    for (double wet = 33; wet < 300; wet += 10) {
        const double tilt = tilt_when_wet(loose(), Micrometres{wet}).value;
        CHECK(tilt > last);
        last = tilt;
    }
}

TEST_CASE("a film that stays wet longer counts as a thicker one", "[film][orientation]") {
    CHECK(tilt_when_wet(loose(), Micrometres{32}, 0.5) == tilt_when_wet(loose(), Micrometres{64}, 1));
    CHECK(tilt_when_wet(loose(), Micrometres{64}, 2) == Degrees{6});
}

TEST_CASE("the tilt is clamped at kMaxTilt, unless the paint states more", "[film][orientation]") {
    CHECK(tilt_when_wet(loose(), Micrometres{1e6}) == kMaxTilt);
    paint::EffectPigment wild = loose();
    wild.tilt = Degrees{30};
    CHECK(tilt_when_wet(wild, Micrometres{1e6}) == Degrees{30});
    paint::EffectPigment stiff = loose();
    stiff.wet_disorientation = Share{0.0};
    CHECK(tilt_when_wet(stiff, Micrometres{1e6}) == Degrees{6});
}

// Common practice, no source: the wetter a metallic is sprayed, the darker its face and the weaker its flop.
TEST_CASE("a coat sprayed wet is darker near-specular and lighter at the flop", "[film][orientation]") {
    const auto L_at = [](Degrees aspecular_angle, double wet) {
        paint::EffectPigment flakes = loose();
        flakes.tilt = tilt_when_wet(flakes, Micrometres{wet});
        return film::test::lch_of(
                   film::test::finish_reflectance({{{}, {}, {flakes}, Micrometres{10}}}, 0,
                                                  film::test::aspecular_scene_at(aspecular_angle.value))
                       .outside)
            .L;
    };
    CHECK(L_at(Degrees{15}, 96) < L_at(Degrees{15}, 32) - 2);
    CHECK(L_at(Degrees{45}, 96) > L_at(Degrees{45}, 32) + 2);
}
