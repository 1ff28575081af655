// Drying times between coats.
#include "fadewright/production/dry_times.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace fadewright;

namespace {

constexpr double kMinute = 60;
constexpr MillimetresPerSecond kDefaultAir{300};

plan::SprayableMix lacquer() {
    plan::SprayableMix mix;
    mix.solids = Share{0.30};
    return mix;
}

plan::SprayableMix waterborne() {
    plan::SprayableMix mix = lacquer();
    mix.water = Share{0.95};
    mix.evaporation = 0.3;
    return mix;
}

production::DryTimes dry_times_of(const plan::SprayableMix& mix, double um, double celsius = 21,
                                  double humidity = 0.4, MillimetresPerSecond air = kDefaultAir) {
    return production::dry_times(mix, Micrometres{um}, {Celsius{celsius}, Share{humidity}}, air);
}

}  // namespace

TEST_CASE("a medium colour coat at 21 C has the drying times of common practice", "[plan]") {
    // 30 to 45 min between colour and the next step, about an hour at 21 C in dry air before masking: common
    // practice, no source.
    for (const double um : {9.0, 10.0, 12.0}) {
        const production::DryTimes times = dry_times_of(lacquer(), um);
        CHECK(times.recoat.value >= 30 * kMinute);
        CHECK(times.recoat.value <= 45 * kMinute);
        CHECK(times.tape.value >= 50 * kMinute);
        CHECK(times.tape.value <= 80 * kMinute);
        CHECK(times.flash < times.recoat);
    }
}

TEST_CASE("cold, still and damp air and thick films dry more slowly", "[plan]") {
    const production::DryTimes default_times = dry_times_of(lacquer(), 10);
    CHECK(dry_times_of(lacquer(), 10, 12).recoat > default_times.recoat);
    CHECK(dry_times_of(lacquer(), 10, 30).recoat < default_times.recoat);
    CHECK(dry_times_of(lacquer(), 20).recoat.value == Approx(2 * default_times.recoat.value));
    CHECK(dry_times_of(lacquer(), 10, 21, 0.4, MillimetresPerSecond{1200.0}).flash.value ==
          Approx(default_times.flash.value / 2));  // the boundary layer thins with the root of the speed
    CHECK(dry_times_of(lacquer(), 10, 21, 0.9).flash.value ==
          Approx(default_times.flash.value));  // no vapour of it in the air
    CHECK(dry_times_of(waterborne(), 10, 21, 0.85).flash > 2 * dry_times_of(waterborne(), 10, 21, 0.4).flash);
    CHECK(dry_times_of(waterborne(), 10).flash > default_times.flash);
}

TEST_CASE("still air counts as slowly moving", "[plan]") {
    CHECK(dry_times_of(lacquer(), 10, 21, 0.4, MillimetresPerSecond{0.0}).flash.value ==
          Approx(dry_times_of(lacquer(), 10, 21, 0.4, production::kMinAirSpeed).flash.value));
    CHECK(std::isfinite(dry_times_of(lacquer(), 10, 21, 0.4, MillimetresPerSecond{0.0}).tape.value));
}

TEST_CASE("water does not evaporate in saturated air", "[plan]") {
    plan::SprayableMix water = waterborne();
    water.water = Share{1.0};
    CHECK(dry_times_of(water, 10, 21, 1.0).flash.value > 1e6);
}

TEST_CASE("drying times of the plan override the estimates", "[plan]") {
    plan::ResolvedCoat coat;
    coat.liquid = lacquer();
    plan::ShopSettings mixing;
    mixing.flash = Seconds{600};
    const production::DryTimes times = production::dry_times(coat, Micrometres{10}, {}, mixing);
    CHECK(times.flash.value == 600);
    CHECK(times.recoat.value == Approx(dry_times_of(lacquer(), 10, 21, 0.5).recoat.value));
}
