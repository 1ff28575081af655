// Results of mix and ladder for paints with flakes.
#include "fadewright/app/commands.h"
#include "fadewright/base/files.h"
#include "fadewright/render/png.h"
#include "published_table.h"
#include "run_command.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <nlohmann/json.hpp>

namespace {

using namespace fadewright;
using nlohmann::json;

app::MixRequest gold() {
    app::MixRequest request;
    request.parts = {"interference-gold"};
    request.json = true;
    return request;
}

app::LadderRequest gold_coats(const std::string& coats) {
    app::LadderRequest request;
    request.parts = {"interference-gold"};
    request.coats_steps = coats;
    request.json = true;
    return request;
}

// The colour at one of the six angles.
json at(const json& over, double aspecular) {
    for (const json& angle : over["angles"])
        if (double(angle["aspecular_deg"]) == aspecular) return angle;
    FAIL("no such angle: " << aspecular);
    return {};
}

json json_of(const app::Outcome& outcome) {
    REQUIRE(outcome.exit == app::Exit::ok);
    return json::parse(outcome.out);
}

bool has_sentence(const json& figures, const std::string& start) {
    for (const std::string sentence : figures["sentences"])
        if (sentence.starts_with(start)) return true;
    return false;
}

}  // namespace

TEST_CASE("mix gives the colours of a paint with flakes at six angles over every ground", "[app]") {
    const json figures = json_of(test::run(app::mix, gold()));
    const json& flakes = figures["flakes"];
    REQUIRE(flakes["coats"].size() == figures["coats"].size());
    for (const json& coat : flakes["coats"])
        for (const char* ground : {"over_black", "over_grey", "over_white", "over_ground"}) {
            REQUIRE(coat[ground]["angles"].size() == 6);
            for (const json& angle : coat[ground]["angles"]) {
                const std::vector<double> lab = angle["lab"];
                CHECK(double(angle["chroma"]) == Approx(std::hypot(lab[1], lab[2])).margin(0.002));
            }
        }
    // The flop index by its formula. Source: [alman1987].
    const json& black = flakes["coats"][2]["over_black"];
    const double L15 = at(black, 15)["lab"][0], L45 = at(black, 45)["lab"][0],
                 L110 = at(black, 110)["lab"][0];
    CHECK(double(black["flop"]) ==
          Approx(2.69 * std::pow(L15 - L110, 1.11) / std::pow(L45, 0.86)).margin(0.005));
    // Flakes on an area grow with the coats; a line of sight crosses pi/4 size^2 of them (20 um in the
    // paint's file).
    const double first_coat = flakes["coats"][0]["flakes_per_cm2"],
                 three_coats = flakes["coats"][2]["flakes_per_cm2"];
    CHECK(three_coats == Approx(3 * first_coat).epsilon(1e-9));
    CHECK(double(flakes["coats"][0]["flake_layers"]) ==
          Approx(first_coat * 3.14159265 / 4 * 20e-4 * 20e-4).epsilon(1e-6));
}

TEST_CASE("mix names the coat over black from which interference turns milky", "[app]") {
    const json figures = json_of(test::run(app::mix, gold()));
    // The same coats in a ladder, scanned here for the greatest chroma.
    std::string coats = "1";
    for (int n = 2; n <= 24; ++n) coats += "," + std::to_string(n);
    const json rungs = json_of(test::run(app::ladder, gold_coats(coats)))["rungs"];
    for (const int angle : {15, 45}) {
        int best = 0;
        double max_chroma = 0;
        for (int n = 1; n <= 24; ++n) {
            const double C =
                at(rungs[static_cast<std::size_t>(n - 1)]["flakes"]["over_black"], angle)["chroma"];
            if (C > max_chroma) {
                max_chroma = C;
                best = n;
            }
        }
        CAPTURE(angle, best, max_chroma);
        CHECK(has_sentence(figures, "over black at " + std::to_string(angle) + "°: turns milky from coat " +
                                        std::to_string(best) + " on: more adds whiteness, not colour"));
    }
}

TEST_CASE("where flakes are dosed mix and ladder warn of their dust and of gas in closed cans", "[app]") {
    const json figures = json_of(test::run(app::mix, gold()));
    CHECK(has_sentence(figures, "Dry flake powder is combustible dust: no flames, no sparks"));
    CHECK(has_sentence(figures, "No bare aluminium flake with water-based reducer in a closed can"));
    app::LadderRequest request = gold_coats("1,2");
    request.json = false;
    CHECK(test::run(app::ladder, request).out.find("combustible dust") != std::string::npos);
    request.parts = {"titanium-white"};
    CHECK(test::run(app::ladder, request).out.find("combustible dust") == std::string::npos);
    app::MixRequest white = gold();
    white.parts = {"titanium-white"};
    CHECK_FALSE(has_sentence(json_of(test::run(app::mix, white)), "Dry flake powder"));
}

TEST_CASE("a ladder of coats names the rung from which it turns milky, or its last rung", "[app]") {
    const json far = json_of(test::run(app::ladder, gold_coats("12,1,2,4,8")));  // in whatever order
    double max_chroma = 0;
    std::string best;
    for (const json& rung : far["rungs"]) {
        const double C = at(rung["flakes"]["over_black"], 15)["chroma"];
        if (C > max_chroma) {
            max_chroma = C;
            best = rung["label"];
        }
    }
    CHECK(has_sentence(
        far, "over black at 15°: turns milky from " + best + " on: more adds whiteness, not colour"));
    const json near = json_of(test::run(app::ladder, gold_coats("1,2")));
    CHECK(has_sentence(near, "over black at 15°: does not turn milky up to 2 coats"));
}

TEST_CASE("a ladder of loadings has more flakes in the same wet coat", "[app]") {
    app::LadderRequest request;
    request.parts = {"candy-red=1", "interference-blue=2"};
    request.loading_steps = "10,20, 40 g/L";
    request.json = true;
    const json rungs = json_of(test::run(app::ladder, request))["rungs"];
    REQUIRE(rungs.size() == 3);
    for (std::size_t i = 1; i < 3; ++i) {
        const json &less = rungs[i - 1]["flakes"], &more = rungs[i]["flakes"];
        CHECK(rungs[i]["wet_um"] == rungs[i - 1]["wet_um"]);
        // In proportion to the grams per litre: the same flakes.
        CHECK(double(more["flakes_per_cm2"]) / double(less["flakes_per_cm2"]) ==
              Approx(double(more["flakes_g_per_litre"]) / double(less["flakes_g_per_litre"])).epsilon(1e-9));
        CHECK(double(more["flakes_per_cm2"]) > 1.9 * double(less["flakes_per_cm2"]));
    }
}

TEST_CASE("loading is varied only if exactly one paint has flakes", "[app]") {
    app::LadderRequest request;
    request.loading_steps = "10,20";
    request.parts = {"hansa-yellow"};
    app::Outcome outcome = test::run(app::ladder, request);
    CHECK(outcome.exit == app::Exit::usage_error);
    CHECK(outcome.err.find("exactly one paint that has flakes; this one has 0") != std::string::npos);
    request.parts = {"pearl-white", "interference-blue"};
    outcome = test::run(app::ladder, request);
    CHECK(outcome.exit == app::Exit::usage_error);
    CHECK(outcome.err.find("this one has 2") != std::string::npos);
    request.parts = {"pearl-white"};
    request.loading_steps = "10,600 g/L";
    CHECK(test::run(app::ladder, request).exit == app::Exit::usage_error);
}

TEST_CASE("without flakes no flakes are mentioned", "[app]") {
    app::MixRequest mix;
    mix.parts = {"candy-red", "titanium-white"};
    app::LadderRequest ladder;
    ladder.parts = {"candy-red"};
    ladder.coats_steps = "1,2";
    for (const bool as_json : {false, true}) {
        mix.json = ladder.json = as_json;
        CHECK(test::run(app::mix, mix).out.find("flake") == std::string::npos);
        CHECK(test::run(app::ladder, ladder).out.find("flake") == std::string::npos);
    }
}

TEST_CASE("the ladder sheet of a paint with flakes has a swatch for every rung, ground and angle", "[app]") {
    app::LadderRequest request = gold_coats("1,4");
    request.ground = "white-primer";
    request.out = test::scratch_path("flake-ladder.png");
    const json figures = json_of(test::run(app::ladder, request));
    const Picture sheet =
        render::read_picture(read_file_bytes(request.out, kBinaryFileLimit_bytes).value(), request.out)
            .value();
    const char* const grounds[] = {"over_black", "over_grey", "over_white", "over_ground"};
    const double angles[] = {15, 45, 110};
    // Lighter colours of one angle are shown lighter over all grounds: the centre of the lower part of each
    // swatch.
    for (std::size_t a = 0; a < 3; ++a)
        for (std::size_t rung = 0; rung < 2; ++rung)
            for (std::size_t g = 1; g < 4; ++g) {
                const auto green = [&](std::size_t ground) {
                    const int x = static_cast<int>(40 + 250 + 430 * ground + 138 * a + 110);
                    return int{sheet.pixel(x, static_cast<int>(240 + 132 * rung + 100))[1]};
                };
                const auto L = [&](std::size_t ground) {
                    return double(at(figures["rungs"][rung]["flakes"][grounds[ground]], angles[a])["lab"][0]);
                };
                CAPTURE(a, rung, g, L(g), L(g - 1), green(g), green(g - 1));
                if (std::abs(L(g) - L(g - 1)) > 4) CHECK((L(g) > L(g - 1)) == (green(g) > green(g - 1)));
            }
}
