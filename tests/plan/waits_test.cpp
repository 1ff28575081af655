// Waits between coats.
#include "fadewright/plan/waits.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace fadewright;

namespace {

constexpr double kMinute = 60;
constexpr MillimetresPerSecond kUsualAir{300};

plan::Liquid lacquer() {
    plan::Liquid liquid;
    liquid.solids = Share{0.30};
    return liquid;
}

plan::Liquid waterborne() {
    plan::Liquid liquid = lacquer();
    liquid.water = Share{0.95};
    liquid.evaporation = 0.3;
    return liquid;
}

plan::Waits after(const plan::Liquid& liquid, double um, double celsius = 21, double humidity = 0.4,
                  MillimetresPerSecond air = kUsualAir) {
    return plan::waits_after(liquid, Micrometres{um}, {Celsius{celsius}, Share{humidity}}, air);
}

}  // namespace

TEST_CASE("a usual colour coat at 21 C waits as long as is common practice", "[plan]") {
    // 30 to 45 min between colour and the next step, about an hour at 21 C in dry air before masking: common
    // practice, no source.
    for (const double um : {9.0, 10.0, 12.0}) {
        const plan::Waits waits = after(lacquer(), um);
        CHECK(waits.recoat.value >= 30 * kMinute);
        CHECK(waits.recoat.value <= 45 * kMinute);
        CHECK(waits.tape.value >= 50 * kMinute);
        CHECK(waits.tape.value <= 80 * kMinute);
        CHECK(waits.flash < waits.recoat);
    }
}

TEST_CASE("cold, still and damp air and thick films wait longer", "[plan]") {
    const plan::Waits usual = after(lacquer(), 10);
    CHECK(after(lacquer(), 10, 12).recoat > usual.recoat);
    CHECK(after(lacquer(), 10, 30).recoat < usual.recoat);
    CHECK(after(lacquer(), 20).recoat.value == Approx(2 * usual.recoat.value));
    CHECK(after(lacquer(), 10, 21, 0.4, MillimetresPerSecond{1200.0}).flash.value ==
          Approx(usual.flash.value / 2));  // the still air thins with the root of the speed
    CHECK(after(lacquer(), 10, 21, 0.9).flash.value ==
          Approx(usual.flash.value));  // no vapour of it in the air
    CHECK(after(waterborne(), 10, 21, 0.85).flash > 2 * after(waterborne(), 10, 21, 0.4).flash);
    CHECK(after(waterborne(), 10).flash > usual.flash);
}

TEST_CASE("air that seems still moves a little", "[plan]") {
    CHECK(after(lacquer(), 10, 21, 0.4, MillimetresPerSecond{0.0}).flash.value ==
          Approx(after(lacquer(), 10, 21, 0.4, plan::kStillest).flash.value));
    CHECK(std::isfinite(after(lacquer(), 10, 21, 0.4, MillimetresPerSecond{0.0}).tape.value));
}

TEST_CASE("water does not leave in saturated air", "[plan]") {
    plan::Liquid water = waterborne();
    water.water = Share{1.0};
    CHECK(after(water, 10, 21, 1.0).flash.value > 1e6);
}

TEST_CASE("the plan's own waits stand before those reckoned", "[plan]") {
    plan::ReadyCoat coat;
    coat.liquid = lacquer();
    plan::Mixing mixing;
    mixing.flash = Seconds{600};
    const plan::Waits waits = plan::waits_after(coat, Micrometres{10}, {}, mixing);
    CHECK(waits.flash.value == 600);
    CHECK(waits.recoat.value == Approx(after(lacquer(), 10, 21, 0.5).recoat.value));
}
