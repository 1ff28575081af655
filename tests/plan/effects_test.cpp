// Pearls, interference colours, silver and candy from the library behave as painters know them. Where no
// source is named the behaviour is common practice, no source; the numbers are those of the presets.
#include "fadewright/film/flake_layer.h"
#include "fadewright/film/multi_angle.h"
#include "fadewright/formulation/drawdown.h"
#include "fadewright/plan/flake_content.h"
#include "preset_library.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <vector>

using namespace fadewright;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

const auto kBlack = colour::Reflectance::constant(formulation::kBlackChart);
const auto kWhite = colour::Reflectance::constant(formulation::kWhiteChart);

const film::Colorimeter& day_colorimeter() {
    static const film::Colorimeter colorimeter(colour::standard_illuminant(colour::StandardIlluminant::D65));
    return colorimeter;
}

const paint::Paint& preset_paint(const std::string& name) {
    static plan::Library library = test::preset_library();
    Diagnostics diagnostics;
    const paint::Paint* paint = library.paint(name, diagnostics);
    REQUIRE(paint);
    return *paint;
}

paint::MixedPaint unmixed(const paint::Paint& paint) {
    const paint::Part part{&paint, 1};
    return paint::mix_paints({&part, 1});
}

std::vector<film::MultiAngleColour> coat_by_coat(const std::string& name, int count,
                                                 const colour::Reflectance& ground) {
    const paint::Paint& paint = preset_paint(name);
    const paint::MixedPaint mix = unmixed(paint);
    std::vector<film::MultiAngleColour> predictions;
    for (int n = 1; n <= count; ++n) {
        const film::Coat coat{&mix, static_cast<double>(n) * paint.coat_film, {}};
        predictions.push_back(film::multi_angle_colour({&coat, 1}, ground, day_colorimeter()));
    }
    return predictions;
}

std::vector<colour::Lab> colours_at(const std::vector<film::MultiAngleColour>& predictions, double angle) {
    std::vector<colour::Lab> labs;
    for (const film::MultiAngleColour& prediction : predictions)
        labs.push_back(prediction.at(Degrees{angle}));
    return labs;
}

double chroma(const colour::Lab& lab) { return std::hypot(lab.a, lab.b); }

}  // namespace

TEST_CASE("interference over black gains colour, and turns milky from the predicted coat on", "[plan]") {
    for (const std::string name :
         {"interference-gold", "interference-blue", "interference-green", "interference-red-violet"})
        for (const double angle : {15.0, 45.0}) {
            const std::vector<colour::Lab> coats = colours_at(coat_by_coat(name, 24, kBlack), angle);
            CAPTURE(name, angle);
            // Chroma rises up to one coat and falls after it, lightness always rises.
            std::size_t peak = 0;
            while (peak + 1 < coats.size() && chroma(coats[peak + 1]) > chroma(coats[peak])) ++peak;
            for (std::size_t i = peak + 1; i < coats.size(); ++i)
                CHECK(chroma(coats[i]) < chroma(coats[i - 1]));
            for (std::size_t i = 1; i < coats.size(); ++i) CHECK(coats[i].L > coats[i - 1].L);
            CHECK(peak > 0);
            CHECK(peak + 1 < coats.size());
            const auto named = formulation::chroma_peak(coats);
            REQUIRE(named);
            CHECK(*named == peak);
        }
}

TEST_CASE("over-applied interference turns milky and pastel", "[plan]") {
    for (const std::string name : {"interference-gold", "interference-blue", "interference-green"}) {
        const std::vector<film::MultiAngleColour> coats = coat_by_coat(name, 40, kBlack);
        CAPTURE(name);
        // A third of its colour is lost at 15 degrees, and at 110 degrees dark has become pale.
        CHECK(chroma(coats[39].at(Degrees{15})) < 0.67 * chroma(coats[3].at(Degrees{15})));
        CHECK(coats[39].at(Degrees{110}).L > 2 * coats[3].at(Degrees{110}).L);
        CHECK(coats[39].flop < 0.6 * coats[3].flop);
    }
}

TEST_CASE("gold interference is yellow over black and bluish over white away from the gloss", "[plan]") {
    const film::MultiAngleColour black = coat_by_coat("interference-gold", 3, kBlack).back();
    const film::MultiAngleColour white = coat_by_coat("interference-gold", 3, kWhite).back();
    CAPTURE(black.at(Degrees{15}).b, white.at(Degrees{15}).b, white.at(Degrees{110}).b);
    CHECK(black.at(Degrees{15}).b > 40);
    CHECK(white.at(Degrees{110}).b < -5);
    CHECK(chroma(white.at(Degrees{15})) < 0.8 * chroma(black.at(Degrees{15})));
    // The bare white is not bluish: the flakes transmit the bluish light.
    const film::MultiAngleColour bare = film::multi_angle_colour({}, kWhite, day_colorimeter());
    CHECK(white.at(Degrees{110}).b < bare.at(Degrees{110}).b - 5);
}

TEST_CASE("candy over silver gets darker with every coat, and stronger up to a limit", "[plan]") {
    const paint::Paint& candy = preset_paint("candy-red");
    const paint::MixedPaint candy_mix = unmixed(candy);
    for (const std::string silver :
         {"metallic-silver-fine", "metallic-silver-medium", "metallic-silver-coarse"}) {
        const paint::MixedPaint silver_mix = unmixed(preset_paint(silver));
        std::vector<film::MultiAngleColour> predictions;
        for (int n = 0; n <= 8; ++n) {
            const std::array<film::Coat, 2> coats{
                film::Coat{&silver_mix, 2.0 * preset_paint(silver).coat_film, {}},
                film::Coat{&candy_mix, static_cast<double>(n) * candy.coat_film, {}}};
            predictions.push_back(film::multi_angle_colour(coats, kBlack, day_colorimeter()));
        }
        for (const double angle : {15.0, 45.0, 110.0}) {
            const std::vector<colour::Lab> labs = colours_at(predictions, angle);
            std::vector<double> C;
            for (const colour::Lab& lab : labs) C.push_back(chroma(lab));
            CAPTURE(silver, angle, C);
            for (std::size_t n = 1; n < labs.size(); ++n) CHECK(labs[n].L < labs[n - 1].L);
            CHECK(C[1] > C[0] + 10);
            // While it gains, each coat gains less than the one before; the last ones change next to nothing.
            // At large aspecular angles, where the light path in the candy is longer, this happens earlier,
            // and a little is lost again as it gets dark.
            const auto best = static_cast<std::size_t>(std::max_element(C.begin(), C.end()) - C.begin());
            CHECK(best >= 2);
            for (std::size_t n = 2; n <= best; ++n) CHECK(C[n] - C[n - 1] < C[n - 1] - C[n - 2]);
            for (const std::size_t n : {7u, 8u}) CHECK(std::abs(C[n] - C[n - 1]) < 0.05 * (C[1] - C[0]));
        }
    }
}

TEST_CASE("twice the loading is twice the flakes, less the paint that they displace", "[plan]") {
    // Own derivation: g grams of density d in one litre give 1 + g/d litres, and a wet coat has its share of
    // them.
    plan::Library library = test::preset_library();
    Diagnostics diagnostics;
    const auto once = library.paint_with_loading("interference-blue", GramsPerLitre{20}, diagnostics),
               twice = library.paint_with_loading("interference-blue", GramsPerLitre{40}, diagnostics);
    REQUIRE((once && twice));
    const auto number = [](const paint::Paint& paint) {
        const paint::MixedPaint mix = unmixed(paint);
        return film::flakes_per_cm2(mix.flakes.front(), paint::dry_film(mix, Micrometres{30}));
    };
    // Volume solids with x litres of flakes added: (s + x) / (1 + x).
    const auto pushed = [&](const paint::Paint& paint, double grams) {
        const auto total = library.paint_with_loading("interference-blue", GramsPerLitre{0}, diagnostics);
        const double s = total->solids.value, v = paint.solids.value, x = (v - s) / (1 - v);
        CHECK_THAT(x * 1000, WithinRel(grams / 3.1, 0.2));  // mica and titania have about 3 g/mL
        return 1 + x;
    };
    CHECK_THAT(number(*twice) / number(*once), WithinRel(2 * pushed(*once, 20) / pushed(*twice, 40), 1e-9));
}

TEST_CASE("grams and teaspoons of a mix follow its parts and its loading", "[plan]") {
    plan::Library library = test::preset_library();
    const paint::Paint& pearl = preset_paint("interference-gold");
    const paint::Paint& clear = preset_paint("clear-base");
    const paint::Part total{&pearl, 1};
    const auto all = plan::flake_content({&total, 1}, library);
    REQUIRE(all);
    // 22 g/L in its file, in a volume slightly larger than the litre without flakes.
    CHECK(all->in_mix.value < 22);
    CHECK(all->in_mix.value > 21.7);
    CHECK_THAT(all->level_teaspoons, WithinRel(all->in_mix.value / (5 * all->bulk_density.value), 1e-12));
    const std::vector<paint::Part> thinned{{&pearl, 1}, {&clear, 3}};
    CHECK_THAT(plan::flake_content(thinned, library)->in_mix.value, WithinRel(all->in_mix.value / 4, 1e-12));
    const auto none = plan::flake_content({&total, 1}, library,
                                          plan::LoadingOverride{"interference-gold", GramsPerLitre{0}});
    CHECK(none->in_mix.value == 0);
    CHECK_FALSE(plan::flake_content(std::vector<paint::Part>{{&clear, 1}}, library));
}
