// The film for which one colour changes evenly into another.
#include "perceptual_ramp.h"

#include "fadewright/colour/delta_e.h"
#include "fadewright/plan/default_names.h"
#include "preset_library.h"

#include <catch2/catch.hpp>

#include <vector>

using namespace fadewright;
using namespace fadewright::plan;
using namespace fadewright::planner;

namespace {

paint::MixedPaint mixed(Library& library, const std::string& name) {
    const std::vector<paint::Part> parts{{library.paint(name), 1.0}};
    return paint::mix_paints(parts);
}

}  // namespace

TEST_CASE("along a perceptual ramp the colour differences are even", "[plan][fade]") {
    Library library = test::preset_library();
    const film::Colorimeter colorimeter(*library.light(kDefaultLight));
    const paint::MixedPaint white = mixed(library, "titanium-white");
    for (const std::string name : {"quinacridone-violet", "carbon-black", "hansa-yellow"}) {
        CAPTURE(name);
        const paint::MixedPaint over = mixed(library, name);
        const RampProfile profile = perceptual_ramp(over, Micrometres{15}, white, colorimeter);
        CHECK(profile.share_at(0) == 0);
        CHECK(profile.share_at(1) == 1);
        const colour::Reflectance ground = film::masstone(white);
        constexpr int kSteps = 16;
        std::vector<double> differences;
        double total = 0;
        colour::Lab last = colorimeter.lab(ground);
        for (int i = 1; i <= kSteps; ++i) {
            const double share = profile.share_at(static_cast<double>(i) / kSteps);
            CHECK(share > profile.share_at((i - 1.0) / kSteps));
            const colour::Lab now =
                colorimeter.lab(film::reflectance_over(over, share * Micrometres{15}, ground));
            differences.push_back(colour::delta_e_2000(last, now));
            total += differences.back();
            last = now;
        }
        for (const double difference : differences) CHECK(difference == Approx(total / kSteps).epsilon(0.1));
    }
}

TEST_CASE("strong paint starts with a thinner film than a linear ramp", "[plan][fade]") {
    Library library = test::preset_library();
    const film::Colorimeter colorimeter(*library.light(kDefaultLight));
    const RampProfile profile = perceptual_ramp(mixed(library, "carbon-black"), Micrometres{15},
                                                mixed(library, "titanium-white"), colorimeter);
    CHECK(profile.share_at(0.5) < 0.25);
    CHECK(profile.error_weight(0.01) > profile.error_weight(0.9));
}

TEST_CASE("between mixes of one colour the ramp is linear", "[plan][fade]") {
    Library library = test::preset_library();
    const film::Colorimeter colorimeter(*library.light(kDefaultLight));
    const paint::MixedPaint black = mixed(library, "carbon-black");
    const RampProfile profile = perceptual_ramp(black, Micrometres{60}, black, colorimeter);
    for (const double s : {0.0, 0.2, 0.5, 0.9, 1.0}) CHECK(profile.share_at(s) == Approx(s));
    CHECK(profile.error_weight(0.5) == 1);
}
