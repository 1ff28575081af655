// Recipes for colours that the presets are known to reach, and the command as a front end uses it.

#include "fadewright/formulation/match.h"

#include "fadewright/app/commands.h"
#include "fadewright/base/random.h"
#include "fadewright/colour/delta_e.h"
#include "fadewright/film/colorimeter.h"
#include "fadewright/film/stack.h"
#include "fadewright/report/match_report.h"
#include "preset_library.h"
#include "run_command.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

namespace {

using namespace fadewright;
using nlohmann::json;

constexpr std::uint64_t kSeed = 20;

// The paints of the library that colour a mix.
struct Paints {
    plan::Library library = test::preset_library();
    std::vector<const paint::Paint*> paints;

    Paints() {
        Diagnostics diagnostics;
        for (const std::string& name : library.names(plan::LibraryKind::paints)) {
            const paint::Paint* paint = library.paint(name, diagnostics);
            if (paint->role == paint::Role::opaque || paint->role == paint::Role::transparent ||
                paint->role == paint::Role::white)
                paints.push_back(paint);
        }
    }
};

// Three different paints in parts that differ up to thirty times.
std::vector<paint::Part> random_recipe(const Paints& library_paints, std::uint64_t index) {
    std::vector<paint::Part> parts;
    for (std::uint64_t draw = 0; parts.size() < 3; ++draw) {
        const double unit = uniform01(kSeed, 2 * index, draw);
        const paint::Paint* paint =
            library_paints
                .paints[static_cast<std::size_t>(unit * static_cast<double>(library_paints.paints.size()))];
        const bool chosen =
            std::any_of(parts.begin(), parts.end(), [&](const paint::Part& p) { return p.paint == paint; });
        if (!chosen) parts.push_back({paint, std::pow(30.0, -uniform01(kSeed, 2 * index + 1, draw))});
    }
    return parts;
}

formulation::MatchSettings max_three_paints() {
    formulation::MatchSettings settings;
    settings.max_paints = 3;
    settings.max_recipes = 1;
    return settings;
}

colour::Lab masstone_lab(std::span<const paint::Part> parts, const formulation::MatchSettings& settings) {
    return film::Colorimeter(settings.light, settings.observer, settings.specular)
        .lab(film::masstone(paint::mix_paints(parts)));
}

}  // namespace

TEST_CASE("the colours of two hundred random recipes are found again", "[app][match]") {
    const Paints library_paints;
    const formulation::MatchSettings settings = max_three_paints();
    std::vector<double> missed;
    for (std::uint64_t index = 0; index < 200; ++index) {
        const colour::Lab wanted = masstone_lab(random_recipe(library_paints, index), settings);
        const formulation::Recipe best =
            formulation::match({wanted, {}}, library_paints.paints, settings).front();
        CAPTURE(index, wanted.L, wanted.a, wanted.b);
        CHECK(best.delta_e < 1.0);
        missed.push_back(best.delta_e);
    }
    std::nth_element(missed.begin(), missed.begin() + 100, missed.end());
    CHECK(missed[100] < 0.1);
}

TEST_CASE("near a known recipe the matcher does as well or better", "[app][match]") {
    const Paints library_paints;
    formulation::MatchSettings settings = max_three_paints();
    settings.division = Grams{0.001};  // so fine that weighing decides nothing
    for (std::uint64_t index = 0; index < 25; ++index) {
        const auto parts = random_recipe(library_paints, 500 + index);
        const colour::Lab known = masstone_lab(parts, settings);
        const auto off = [&](std::uint64_t stream) { return 6 * uniform01(kSeed, 900 + stream, index) - 3; };
        const colour::Lab wanted{std::clamp(known.L + off(0), 0.0, 100.0), known.a + off(1),
                                 known.b + off(2)};
        std::vector<const paint::Paint*> its_own;
        for (const paint::Part& part : parts) its_own.push_back(part.paint);
        const formulation::Recipe best =
            formulation::match({wanted, {}}, library_paints.paints, settings).front();
        const formulation::Recipe own = formulation::match({wanted, {}}, its_own, settings).front();
        CAPTURE(index);
        // The whole library is not worse than the paints the colour was made of, in spite of all shortcuts
        // of the search; a thousandth for the tolerance of the fits.
        CHECK(best.cost <= own.cost + 1e-3);
        // A recipe easier to use may be further off by no more than ranking charges for that.
        const double charged = 3 * formulation::kPaintCost + formulation::kMaxCoats * formulation::kCoatCost;
        CHECK(best.delta_e <= colour::delta_e_2000(wanted, known) + charged);
    }
}

TEST_CASE("the order of the paints changes nothing", "[app][match]") {
    const Paints library_paints;
    const colour::Lab wanted{48, 22, 14};
    const auto recipes = formulation::match({wanted, {}}, library_paints.paints, {});
    auto turned = library_paints.paints;
    std::reverse(turned.begin(), turned.end());
    for (const std::size_t by : {std::size_t{0}, std::size_t{11}}) {
        std::rotate(turned.begin(), turned.begin() + static_cast<std::ptrdiff_t>(by), turned.end());
        const auto again = formulation::match({wanted, {}}, turned, {});
        REQUIRE(again.size() == recipes.size());
        for (std::size_t i = 0; i < recipes.size(); ++i) {
            CHECK(again[i].delta_e == recipes[i].delta_e);
            REQUIRE(again[i].ingredients.size() == recipes[i].ingredients.size());
            for (std::size_t j = 0; j < recipes[i].ingredients.size(); ++j) {
                CHECK(again[i].ingredients[j].paint == recipes[i].ingredients[j].paint);
                CHECK(again[i].ingredients[j].share == recipes[i].ingredients[j].share);
            }
        }
    }
}

// A black that one part of white lifts to L* 60; how far more white lifts it is then settled. Art teaching
// (common practice, no source) puts 4, 16, 40 and 100 parts at 7, 8, 9 and 10 of a scale of ten, which no
// single strength of black gives exactly: each must be within one step, and each step up costs more white.
TEST_CASE("white lifts a black by diminishing steps", "[app][match]") {
    paint::Paint white, black;
    white.S = colour::Scattering::constant(0.2);
    white.K = colour::Absorption::constant(1.7e-4);  // thick, it sends back 96 %
    const formulation::MatchSettings settings;
    const auto L = [&](double parts_of_white) {
        return masstone_lab(std::vector<paint::Part>{{&white, parts_of_white}, {&black, 1}}, settings).L;
    };
    double low = 1e-4, high = 10;
    for (int halving = 0; halving < 60; ++halving) {
        const double K = std::sqrt(low * high);
        black.K = colour::Absorption::constant(K);
        (L(1) > 60 ? low : high) = K;
    }
    CHECK_THAT(L(1), Catch::Matchers::WithinAbs(60, 1e-6));
    CHECK_THAT(L(4), Catch::Matchers::WithinAbs(70, 10));
    CHECK_THAT(L(16), Catch::Matchers::WithinAbs(80, 10));
    CHECK_THAT(L(40), Catch::Matchers::WithinAbs(90, 10));
    CHECK_THAT(L(100), Catch::Matchers::WithinAbs(100, 10));
    double step = L(4) - L(1);
    for (double parts = 16; parts <= 4096; parts *= 4) {
        const double next = L(parts) - L(parts / 4);
        CHECK(next > 0);
        CHECK(next < step);
        step = next;
    }
}

// Common practice, no source: about ten of yellow to one of a strong blue make a green, and equal parts are
// still the blue's.
TEST_CASE("a green of yellow and a strong blue is mostly yellow", "[app][match]") {
    const Paints library_paints;
    Diagnostics diagnostics;
    plan::Library library = test::preset_library();
    const std::vector<const paint::Paint*> two{library.paint("hansa-yellow", diagnostics),
                                               library.paint("phthalo-blue-green-shade", diagnostics)};
    // Leaf green: as light and strong as these two can be at the hue of 150 degrees.
    const colour::Lab green{39, -48, 27};
    const auto recipes = formulation::match({green, {}}, two, {});
    const formulation::Recipe& best = recipes.front();
    REQUIRE(best.ingredients.size() == 2);
    CHECK(best.ingredients[0].paint->id == "hansa-yellow");
    const double ratio = best.ingredients[0].share / best.ingredients[1].share;
    CHECK(ratio > 5);
    CHECK(ratio < 20);
}

TEST_CASE("match prints as JSON all that it prints as text", "[app][match]") {
    app::MatchRequest request;
    request.lab = "62,41,38";
    request.batch = Grams{120};
    request.json = true;
    const app::Outcome outcome = test::run(app::match, request);
    REQUIRE(outcome.exit == app::Exit::ok);
    const json answer = json::parse(outcome.out);
    CHECK(answer["observer_deg"] == 10);
    REQUIRE(answer["recipes"].size() >= 3);
    const json best = answer["recipes"][0];
    CHECK(best["delta_e"]["exact"] < 0.5);
    const json last = best["ingredients"].back();
    CHECK_THAT(last["running_total_g"].get<double>(), Catch::Matchers::WithinAbs(120, 1));
    CHECK_FALSE(best["incandescent"].contains("metamerism_index"));
}

TEST_CASE("match finds the colour of a paint without that paint, and predicts it in other lights",
          "[app][match]") {
    app::MatchRequest request;
    request.mix = "burnt-sienna";
    request.exclude = {"burnt-sienna"};
    request.json = true;
    const json answer = json::parse(test::run(app::match, request).out);
    for (const json& recipe : answer["recipes"]) {
        CHECK(recipe["incandescent"]["metamerism_index"].is_number());
        for (const json& ingredient : recipe["ingredients"]) CHECK(ingredient["paint"] != "burnt-sienna");
    }
}

TEST_CASE("a colour out of reach is said to be out of reach, and why", "[app][match]") {
    app::MatchRequest request;
    request.lab = "90,-60,80";
    const std::string text = test::run(app::match, request).out;
    CHECK(text.find("the nearest is") != std::string::npos);
    CHECK(text.find("as light") != std::string::npos);
    CHECK(report::shortfall_label({50, 60, 40}, {50, 30, 20}) == "as strong");
    CHECK(report::shortfall_label({50, 3, 2}, {50, 30, 20}) == "as muted");
    CHECK(report::shortfall_label({5, 0, 0}, {25, 1, 1}) == "as dark");
    CHECK(report::shortfall_label({50, 50, 0}, {50, 40, 30}) == "bluer");
    CHECK(report::direction_label({50, 10, 10}, {51, 14, 9}) == "redder");
}

TEST_CASE("wrong names and colours are refused with what to write", "[app][match]") {
    const auto asked = [](auto change) {
        app::MatchRequest request;
        request.lab = "50,10,10";
        change(request);
        return test::run(app::match, request);
    };
    const app::Outcome paint = asked([](auto& r) { r.paints = {"titanum-white,carbon-black"}; });
    CHECK(paint.exit == app::Exit::data_error);
    CHECK(paint.err.find("did you mean 'titanium-white'?") != std::string::npos);
    CHECK(asked([](auto& r) { r.exclude = {"carbon-blak"}; }).exit == app::Exit::data_error);
    CHECK(asked([](auto& r) { r.light = "moonshine"; }).exit == app::Exit::data_error);
    CHECK(asked([](auto& r) { r.paints = {"reducer-medium"}; }).exit == app::Exit::data_error);
    CHECK(asked([](auto& r) { r.paints = {"clear-base"}; }).exit == app::Exit::data_error);
    CHECK(asked([](auto& r) {
              r.over = "no-such-ground";
              r.film = Micrometres{12};
          }).exit == app::Exit::data_error);
    CHECK(asked([](auto& r) { r.over = "grey-sealer"; }).exit == app::Exit::usage_error);
    CHECK(asked([](auto& r) { r.lab = "50,10"; }).exit == app::Exit::usage_error);
    CHECK(asked([](auto& r) { r.lab = "50,10,x"; }).exit == app::Exit::usage_error);
    CHECK(asked([](auto& r) { r.lab = "nan,10,10"; }).exit == app::Exit::usage_error);
    CHECK(asked([](auto& r) { r.lab.clear(); }).exit == app::Exit::usage_error);
    CHECK(asked([](auto& r) { r.srgb = "#112233"; }).exit == app::Exit::usage_error);
    CHECK(asked([](auto& r) {
              r.lab.clear();
              r.srgb = "#11223g";
          }).exit == app::Exit::usage_error);
    CHECK(asked([](auto& r) {
              r.lab.clear();
              r.mix = "no-such-paint";
          }).exit == app::Exit::data_error);
    CHECK(asked([](auto& r) { r.observer = 5; }).exit == app::Exit::usage_error);
}
