// Coverage arithmetic against published trade numbers; every row has its source.
#include "fadewright/production/coverage.h"

#include "fadewright/paint/mix.h"
#include "published_table.h"

#include <catch2/catch.hpp>

#include <array>
#include <functional>
#include <map>
#include <string>

using namespace fadewright;

namespace {

constexpr double kMil_um = 25.4;

// Share of weight, or of volume, of the first of two paints.
Share first_by_weight(double parts_by_volume, double first, double second) {
    paint::Paint a, b;
    a.wet_density = GramsPerMillilitre{first};
    b.wet_density = GramsPerMillilitre{second};
    const std::array parts{paint::Part{&a, parts_by_volume}, paint::Part{&b, 1 - parts_by_volume}};
    return paint::weight_shares(parts).front();
}

Share first_by_volume(double weight, double first, double second) {
    paint::Paint a, b;
    a.wet_density = GramsPerMillilitre{first};
    b.wet_density = GramsPerMillilitre{second};
    const double first_mL = paint::volume_of(a, Grams{weight}).value;
    const double second_mL = paint::volume_of(b, Grams{1 - weight}).value;
    return Share{first_mL / (first_mL + second_mL)};
}

using Formula = std::function<double(const test::Row&)>;

const std::map<std::string, Formula>& formulas() {
    static const std::map<std::string, Formula> all{
        {"gallon_ft2",
         [](const test::Row& r) {
             return production::kSquareFeetPerSquareMetre *
                    production::coverage_m2(production::kUsGallon, Micrometres{kMil_um * r.number("c")},
                                            Share{r.number("a")}, Share{r.number("b")});
         }},
        {"litre_m2",
         [](const test::Row& r) {
             return production::coverage_m2(Millilitres{1000}, Micrometres{r.number("c")},
                                            Share{r.number("a")}, Share{r.number("b")});
         }},
        {"to_spray_mL",
         [](const test::Row& r) {
             return production::spray_volume(r.number("d"), Micrometres{r.number("c")}, Share{r.number("a")},
                                             Share{r.number("b")})
                 .value;
         }},
        {"dry_um",
         [](const test::Row& r) {
             return production::dry_film_of(Micrometres{r.number("c")}, Share{r.number("a")},
                                            Share{r.number("b")})
                 .value;
         }},
        {"wet_um",
         [](const test::Row& r) {
             return production::wet_film_of(Micrometres{r.number("c")}, Share{r.number("a")},
                                            Share{r.number("b")})
                 .value;
         }},
        {"of_mix",
         [](const test::Row& r) { return paint::reducer_share_of_mix(Share{r.number("a")}).value; }},
        {"refill",
         [](const test::Row& r) {
             const auto cup = static_cast<std::size_t>(r.number("b"));
             return production::step_down_strengths(Share{r.number("a")}, 5).at(cup).value;
         }},
        {"passes", [](const test::Row& r) { return production::passes_over_a_point(Share{r.number("a")}); }},
        {"weight_share",
         [](const test::Row& r) {
             return first_by_weight(r.number("a"), r.number("b"), r.number("c")).value;
         }},
        {"volume_share",
         [](const test::Row& r) {
             return first_by_volume(r.number("a"), r.number("b"), r.number("c")).value;
         }},
        {"scale_error",
         [](const test::Row& r) {
             return production::weighing_error(Grams{r.number("a") * r.number("b")}, Grams{r.number("c")})
                 .value;
         }},
        {"card_g", [](const test::Row& r) {
             return production::card_film_weight(Millimetres{r.number("a")}, Millimetres{r.number("b")},
                                                 Micrometres{r.number("c")},
                                                 GramsPerMillilitre{r.number("d")})
                 .value;
         }}};
    return all;
}

}  // namespace

TEST_CASE("coverage agrees with published numbers", "[plan][published]") {
    std::map<std::string, int> used_functions;
    for (const test::Row& row : test::published_rows("quantities.csv")) {
        const std::string& kind = row.text("kind");
        INFO(kind << " " << row.text("a") << " " << row.text("b") << " " << row.text("c") << ": "
                  << row.text("source"));
        REQUIRE(formulas().count(kind) == 1);
        CHECK(formulas().at(kind)(row) ==
              Approx(row.number("expected")).margin(row.number("within")).epsilon(0));
        ++used_functions[kind];
    }
    CHECK(used_functions.size() == formulas().size());
    CHECK(used_functions["to_spray_mL"] == 5);
}

TEST_CASE("lower solids or transfer efficiency cover less", "[plan]") {
    // With both in the denominator it would cover more.
    const auto coverage = [](double solids, double transfer) {
        return production::coverage_m2(Millilitres{1000}, Micrometres{20}, Share{solids}, Share{transfer});
    };
    CHECK(coverage(0.5, 0.6) > coverage(0.4, 0.6));
    CHECK(coverage(0.5, 0.6) > coverage(0.5, 0.5));
    CHECK(coverage(0.5, 0.6) == Approx(1000 * 0.5 * 0.6 / 20));
}

TEST_CASE("area, film and volume are inverses", "[plan]") {
    const Millilitres amount = production::spray_volume(0.45, Micrometres{20}, Share{0.15}, Share{0.4});
    CHECK(production::coverage_m2(amount, Micrometres{20}, Share{0.15}, Share{0.4}) ==
          Approx(0.45).epsilon(1e-14));
    CHECK(production::dry_film_of(production::wet_film_of(Micrometres{37}, Share{0.3}, Share{0.2}),
                                  Share{0.3}, Share{0.2})
              .value == Approx(37).epsilon(1e-14));
}

TEST_CASE("the smallest batch for an error has exactly that error", "[plan]") {
    for (const double share : {0.001, 0.02, 0.4})
        for (const double error : {0.01, 0.05, 0.2}) {
            const Grams batch = production::smallest_batch(Share{share}, Grams{0.1}, Share{error});
            CHECK(production::weighing_error(share * batch, Grams{0.1}).value ==
                  Approx(error).epsilon(1e-12));
        }
    // 2 % on a 0.1 g scale within 5 %: 50 g.
    CHECK(production::smallest_batch(Share{0.02}, Grams{0.1}, Share{0.05}).value == Approx(50));
}

TEST_CASE("a clear is rated by its film", "[plan]") {
    // 50 to 64 um dry is normal, above 76 um too thick. Source: common practice, no source.
    const auto rated = [](double um) { return production::rate_clear_film(Micrometres{um}); };
    CHECK(rated(49) == production::ClearFilm::thin);
    CHECK(rated(50) == production::ClearFilm::normal);
    CHECK(rated(64) == production::ClearFilm::normal);
    CHECK(rated(65) == production::ClearFilm::thick);
    CHECK(rated(76) == production::ClearFilm::thick);
    CHECK(rated(76.5) == production::ClearFilm::too_thick);
}
