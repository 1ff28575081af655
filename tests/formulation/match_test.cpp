#include "fadewright/formulation/match.h"

#include "fadewright/colour/delta_e.h"
#include "fadewright/film/colorimeter.h"
#include "fadewright/film/stack.h"
#include "some_paints.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <numeric>

using namespace fadewright;
using namespace fadewright::film;
using namespace fadewright::formulation;

namespace {

// A small library: white, black, and colours that absorb one third of the spectrum each.
std::vector<paint::Paint> small_library() {
    struct Bottle {
        const char* id;
        test::ThreeBands K, S;
    };
    const Bottle bottles[] = {{"white", {0.0005, 0.0005, 0.002}, {0.18, 0.2, 0.24}},
                              {"black", {3, 3, 3}, {0.02, 0.02, 0.02}},
                              {"yellow", {0.003, 0.02, 1.5}, {0.06, 0.06, 0.05}},
                              {"red", {0.01, 1.6, 1.3}, {0.07, 0.04, 0.04}},
                              {"blue", {3.5, 0.7, 0.05}, {0.02, 0.02, 0.03}}};
    std::vector<paint::Paint> paints;
    for (const Bottle& bottle : bottles) {
        paint::Paint paint = test::make_paint(test::in_thirds<colour::Absorption>(bottle.K),
                                              test::in_thirds<colour::Scattering>(bottle.S));
        paint.id = bottle.id;
        paint.solids = Share{bottle.id == std::string("white") ? 0.4 : 0.25};
        paint.wet_density = GramsPerMillilitre{bottle.id == std::string("white") ? 1.25 : 1.0};
        if (bottle.id == std::string("white")) {
            paint.role = paint::Role::white;
            paint.pigment = Share{0.2};
        }
        paints.push_back(paint);
    }
    return paints;
}

colour::Lab masstone_lab(std::span<const paint::Part> parts, const MatchSettings& settings) {
    const Colorimeter colorimeter(settings.light, settings.observer, settings.specular);
    return colorimeter.lab(masstone(paint::mix_paints(parts)));
}

// Colours all over Lab, many of them out of gamut.
std::vector<colour::Lab> colours_everywhere(std::uint64_t seed, std::size_t count) {
    std::vector<colour::Lab> all;
    for (std::size_t i = 0; i < count; ++i)
        all.push_back({5 + 90 * uniform01(seed, 0, i), -80 + 160 * uniform01(seed, 1, i),
                       -80 + 160 * uniform01(seed, 2, i)});
    return all;
}

}  // namespace

TEST_CASE("a recipe's figures are those of its mix", "[film][match]") {
    const auto paints = small_library();
    MatchSettings settings;
    const Colorimeter colorimeter(settings.light, settings.observer, settings.specular);
    for (const colour::Lab& target_lab : colours_everywhere(3, 12)) {
        for (const Recipe& recipe : match({target_lab, {}}, test::pointers(paints), settings)) {
            const colour::Lab lab = masstone_lab(recipe.exact_parts(), settings);
            CHECK(colour::delta_e_76(recipe.lab, lab) < 1e-9);
            CHECK_THAT(recipe.delta_e,
                       Catch::Matchers::WithinAbs(colour::delta_e_2000(target_lab, lab), 1e-9));
            CHECK_THAT(
                recipe.delta_e_parts,
                Catch::Matchers::WithinAbs(
                    colour::delta_e_2000(target_lab, masstone_lab(recipe.whole_parts(), settings)), 1e-9));
            CHECK_THAT(recipe.delta_e_grams,
                       Catch::Matchers::WithinAbs(
                           colour::delta_e_2000(target_lab, masstone_lab(recipe.parts_by_weight(), settings)),
                           1e-9));
            CHECK(recipe.delta_e_worst_case >= 0);
        }
    }
}

TEST_CASE("a rounded recipe has measurable amounts", "[film][match]") {
    const auto paints = small_library();
    for (const double division : {0.01, 0.1, 5.0, 40.0}) {
        MatchSettings settings;
        settings.division = Grams{division};
        settings.max_parts = 12;
        for (const colour::Lab& target_lab : colours_everywhere(5, 25)) {
            CAPTURE(division, target_lab.L, target_lab.a, target_lab.b);
            for (const Recipe& recipe : match({target_lab, {}}, test::pointers(paints), settings)) {
                int parts = 0;
                double share = 0, grams = 0;
                for (const Ingredient& ingredient : recipe.ingredients) {
                    CHECK(ingredient.parts >= 0);
                    CHECK(ingredient.parts <= settings.max_parts);
                    CHECK(ingredient.share > 0);
                    CHECK(ingredient.grams.value >= 0);
                    const double divisions = ingredient.grams.value / division;
                    CHECK_THAT(divisions, Catch::Matchers::WithinAbs(std::round(divisions), 1e-9));
                    parts += ingredient.parts;
                    share += ingredient.share;
                    grams += ingredient.grams.value;
                }
                CHECK(parts > 0);
                CHECK(grams > 0);
                CHECK_THAT(share, Catch::Matchers::WithinAbs(1, 1e-12));
            }
        }
    }
}

TEST_CASE("recipes list the largest weight first", "[film][match]") {
    const auto paints = small_library();
    const auto recipes = match({{60, 20, 10}, {}}, test::pointers(paints), {});
    for (const Recipe& recipe : recipes)
        CHECK(std::is_sorted(recipe.ingredients.begin(), recipe.ingredients.end(),
                             [](const Ingredient& a, const Ingredient& b) {
                                 return a.share * a.paint->wet_density.value >
                                        b.share * b.paint->wet_density.value;
                             }));
}

TEST_CASE("alternatives use other paints, and none is a subset of another", "[film][match]") {
    const auto paints = small_library();
    const auto holds = [](const Recipe& a, const Recipe& b) {
        return std::all_of(b.ingredients.begin(), b.ingredients.end(), [&](const Ingredient& ingredient) {
            return std::any_of(a.ingredients.begin(), a.ingredients.end(),
                               [&](const Ingredient& other) { return other.paint == ingredient.paint; });
        });
    };
    for (const colour::Lab& target_lab : colours_everywhere(7, 10)) {
        const auto recipes = match({target_lab, {}}, test::pointers(paints), {});
        REQUIRE(!recipes.empty());
        for (std::size_t i = 0; i < recipes.size(); ++i)
            for (std::size_t j = 0; j < i; ++j) {
                CHECK_FALSE(holds(recipes[i], recipes[j]));
                CHECK_FALSE(holds(recipes[j], recipes[i]));
                CHECK(recipes[j].cost <= recipes[i].cost);
            }
    }
}

TEST_CASE("no recipe has more than max_paints paints", "[film][match]") {
    const auto paints = small_library();
    for (int max_paints = 1; max_paints <= 5; ++max_paints) {
        MatchSettings settings;
        settings.max_paints = max_paints;
        for (const Recipe& recipe : match({{55, -10, 20}, {}}, test::pointers(paints), settings))
            CHECK(static_cast<int>(recipe.ingredients.size()) <= max_paints);
    }
}

// Half a division over the amount: 0.05 g of 0.2 g is a quarter, of 2 g a fortieth (arithmetic).
TEST_CASE("a scale too coarse for a small amount is flagged", "[film][match]") {
    auto paints = small_library();
    for (paint::Paint& paint : paints) {
        paint.wet_density = GramsPerMillilitre{1};
        paint.solids = Share{0.3};
    }
    const std::vector<paint::Part> parts{{&paints[0], 98}, {&paints[1], 2}};
    MatchSettings settings;
    const Colorimeter colorimeter(settings.light, settings.observer, settings.specular);
    const MatchTarget target =
        match_target(colorimeter.through_surface(masstone(paint::mix_paints(parts))), settings);
    struct Row {
        double batch, division, error;
    };
    for (const Row row : {Row{10, 0.1, 0.25}, Row{10, 0.01, 0.025}, Row{30, 0.1, 0.0833},
                          Row{100, 0.1, 0.025}, Row{100, 0.01, 0.0025}}) {
        settings.batch = Grams{row.batch};
        settings.division = Grams{row.division};
        const auto recipes = match(target, test::pointers(paints), settings);
        REQUIRE(recipes.front().ingredients.size() == 2);
        const Ingredient& black = recipes.front().ingredients.back();
        CAPTURE(row.batch, row.division);
        CHECK(black.paint == &paints[1]);
        // the matched share of black is itself good to a fraction of a per cent
        CHECK_THAT(black.weighing_error.value, Catch::Matchers::WithinRel(row.error, 0.01));
        CHECK(black.is_coarse() == (row.error > kMaxWeighingError));
    }
}

// Equal volumes of densities 1.25 and 1.02 weigh 55.1 to 44.9 (arithmetic).
TEST_CASE("grams follow parts by the paints' densities", "[film][match]") {
    auto paints = small_library();
    paints[0].wet_density = GramsPerMillilitre{1.25};
    paints[2].wet_density = GramsPerMillilitre{1.02};
    const std::vector<paint::Part> parts{{&paints[0], 1}, {&paints[2], 1}};
    MatchSettings settings;
    settings.batch = Grams{100};
    const Colorimeter colorimeter(settings.light, settings.observer, settings.specular);
    const auto recipes =
        match(match_target(colorimeter.through_surface(masstone(paint::mix_paints(parts))), settings),
              test::pointers(paints), settings);
    const Recipe& best = recipes.front();
    REQUIRE(best.ingredients.size() == 2);
    CHECK(best.ingredients[0].parts == 1);
    CHECK(best.ingredients[1].parts == 1);
    CHECK_THAT(best.ingredients[0].grams.value, Catch::Matchers::WithinAbs(55.1, 0.11));
    CHECK_THAT(best.ingredients[1].grams.value, Catch::Matchers::WithinAbs(44.9, 0.11));
}

TEST_CASE("a known spectrum is compared in other lights too, and the index is the difference there",
          "[film][match]") {
    const auto paints = small_library();
    const std::vector<paint::Part> parts{{&paints[0], 6}, {&paints[3], 2}, {&paints[4], 1}};
    MatchSettings settings;
    const Colorimeter colorimeter(settings.light, settings.observer, settings.specular);
    const auto recipes =
        match(match_target(colorimeter.through_surface(masstone(paint::mix_paints(parts))), settings),
              test::pointers(paints), settings);
    const Recipe& best = recipes.front();
    REQUIRE(best.metamerism_incandescent);
    CHECK(*best.metamerism_incandescent < 0.05);
    CHECK(*best.metamerism_fluorescent < 0.05);
    for (const Recipe& recipe : recipes) {
        REQUIRE(recipe.incandescent.target);
        CHECK(*recipe.metamerism_incandescent ==
              colour::delta_e_2000(*recipe.incandescent.target, recipe.incandescent.recipe));
        CHECK(*recipe.metamerism_fluorescent ==
              colour::delta_e_2000(*recipe.fluorescent.target, recipe.fluorescent.recipe));
    }
    CHECK_FALSE(match({{50, 0, 0}, {}}, test::pointers(paints), settings).front().metamerism_incandescent);
}

TEST_CASE("a film over a ground is matched as that film", "[film][match]") {
    const auto paints = small_library();
    MatchSettings settings;
    settings.film_over_ground = MatchFilm{Micrometres{8}, colour::Reflectance::constant(0.3)};
    const std::vector<paint::Part> parts{{&paints[0], 3}, {&paints[3], 2}};
    const Colorimeter colorimeter(settings.light, settings.observer, settings.specular);
    const colour::Lab target_lab = colorimeter.lab(reflectance_over(
        paint::mix_paints(parts), settings.film_over_ground->film, settings.film_over_ground->ground));
    const auto recipes = match({target_lab, {}}, test::pointers(paints), settings);
    const Recipe& best = recipes.front();
    CHECK(best.delta_e < 0.05);
    const colour::Lab film_lab =
        colorimeter.lab(reflectance_over(paint::mix_paints(best.exact_parts()),
                                         settings.film_over_ground->film, settings.film_over_ground->ground));
    CHECK(colour::delta_e_76(best.lab, film_lab) < 1e-9);
}
