#include "fadewright/app/commands.h"
#include "fadewright/base/files.h"
#include "fadewright/render/png.h"
#include "published_table.h"
#include "run_command.h"

#include <catch2/catch.hpp>
#include <cstdlib>
#include <nlohmann/json.hpp>

namespace {

using namespace fadewright;
using nlohmann::json;

app::MixRequest blue_and_white() {
    app::MixRequest request;
    request.parts = {"phthalo-blue-green-shade=1", "titanium-white=4"};
    request.json = true;
    return request;
}

Picture picture_at(const std::string& path) {
    return render::read_picture(read_file_bytes(path, kBinaryFileLimit_bytes).value(), path).value();
}

// Distance of a pixel from "#rrggbb", in 8-bit steps.
int steps_from(const Picture& picture, int x, int y, const std::string& hex) {
    int worst = 0;
    for (std::size_t c = 0; c < 3; ++c) {
        const int wanted = static_cast<int>(std::strtol(hex.substr(1 + 2 * c, 2).c_str(), nullptr, 16));
        worst = std::max(worst, std::abs(wanted - int{picture.pixel(x, y)[c]}));
    }
    return worst;
}

}  // namespace

TEST_CASE("the mix sheet shows the colours of the figures, to one step in 8 bits", "[app]") {
    app::MixRequest request = blue_and_white();
    request.out = test::scratch_path("mix.png");
    const app::Outcome outcome = test::run(app::mix, request);
    REQUIRE(outcome.exit == app::Exit::ok);
    const json figures = json::parse(outcome.out);
    const Picture sheet = picture_at(request.out);
    CHECK(steps_from(sheet, 1400, 160, figures["masstone"]["srgb"]) <= 1);
}

TEST_CASE("every rung of the ladder sheet shows the colour of the figures", "[app]") {
    app::LadderRequest request;
    request.parts = {"quinacridone-violet=1", "titanium-white=1"};
    request.extend_steps = "0,1,2,3,4";
    request.json = true;
    request.out = test::scratch_path("ladder.png");
    const app::Outcome outcome = test::run(app::ladder, request);
    REQUIRE(outcome.exit == app::Exit::ok);
    const json figures = json::parse(outcome.out);
    REQUIRE(figures["rungs"].size() == 5);
    const Picture sheet = picture_at(request.out);
    for (std::size_t i = 0; i < 5; ++i) {
        const int x = 40 + 290 * static_cast<int>(i);
        CHECK(steps_from(sheet, x + 134, 295, figures["rungs"][i]["over_ground"]["srgb"]) <= 1);
        CHECK(steps_from(sheet, x + 70, 440, figures["rungs"][i]["over_white"]["srgb"]) <= 1);
        CHECK(steps_from(sheet, x + 200, 440, figures["rungs"][i]["over_black"]["srgb"]) <= 1);
    }
}

TEST_CASE("extending lowers hiding and keeps binder, reducing lowers binder and film", "[app]") {
    // Common practice, no source: thinning with reducer loses binder, extending with clear base does not.
    app::LadderRequest request;
    request.parts = {"quinacridone-violet=1"};
    request.extend_steps = "0,2";
    request.json = true;
    const json extended = json::parse(test::run(app::ladder, request).out)["rungs"];
    CHECK(extended[1]["contrast_ratio"] < extended[0]["contrast_ratio"]);
    CHECK(double(extended[1]["binder_g_per_litre"]) >= 0.95 * double(extended[0]["binder_g_per_litre"]));
    request.extend_steps.clear();
    request.reduce_steps = "0,50";
    const json reduced = json::parse(test::run(app::ladder, request).out)["rungs"];
    CHECK(double(reduced[1]["binder_g_per_litre"]) ==
          Approx(double(reduced[0]["binder_g_per_litre"]) / 1.5).epsilon(1e-9));
    CHECK(double(reduced[1]["film_um"]) == Approx(double(reduced[0]["film_um"]) / 1.5).epsilon(1e-9));
    CHECK(double(reduced[1]["pigment_binder"]) == Approx(double(reduced[0]["pigment_binder"])).epsilon(1e-9));
}

TEST_CASE("each part of white lifts a black less than the one before it", "[app]") {
    // The shape of an art-teaching ladder, white to black 1, 4, 16, 40, 100: diminishing return (common
    // practice, no source).
    app::LadderRequest request;
    request.parts = {"iron-oxide-black", "titanium-white"};
    request.ratio_steps = "1:1,1:4,1:16,1:40,1:100";
    request.json = true;
    const json rungs = json::parse(test::run(app::ladder, request).out)["rungs"];
    const std::vector<double> white{1, 4, 16, 40, 100};
    REQUIRE(rungs.size() == white.size());
    double gain_before = 1e9;
    for (std::size_t i = 1; i < rungs.size(); ++i) {
        const double L = rungs[i]["masstone"]["lab"][0], before = rungs[i - 1]["masstone"]["lab"][0];
        const double gain = (L - before) / (white[i] - white[i - 1]);
        CHECK(gain > 0);
        CHECK(gain < gain_before);
        gain_before = gain;
    }
}

TEST_CASE("thin white over black is said to turn bluish", "[app]") {
    app::MixRequest request;
    request.parts = {"titanium-white"};
    const app::Outcome outcome = test::run(app::mix, request);
    CHECK(outcome.out.find("over dark it turns bluish below") != std::string::npos);
}

TEST_CASE("parts by volume, by weight and in per cent say the same mix", "[app]") {
    app::MixRequest request = blue_and_white();
    const json by_parts = json::parse(test::run(app::mix, request).out);
    request.parts = {"phthalo-blue-green-shade=20%", "titanium-white=80%"};
    const json by_share = json::parse(test::run(app::mix, request).out);
    CHECK(by_parts["masstone"] == by_share["masstone"]);
    // Grams in the proportion that the volumes weigh.
    const double blue = by_parts["ingredients"][0]["percent_of_mix_by_weight"];
    const double white = by_parts["ingredients"][1]["percent_of_mix_by_weight"];
    request.parts = {"phthalo-blue-green-shade=" + std::to_string(blue) + "g",
                     "titanium-white=" + std::to_string(white) + "g"};
    const json by_weight = json::parse(test::run(app::mix, request).out);
    CHECK(double(by_weight["masstone"]["lab"][0]) ==
          Approx(double(by_parts["masstone"]["lab"][0])).margin(0.002));
}

TEST_CASE("a mix that is not possible gives an error with a hint", "[app]") {
    app::MixRequest request;
    request.parts = {"phtalo-blue-green-shade=1"};
    app::Outcome outcome = test::run(app::mix, request);
    CHECK(outcome.exit == app::Exit::data_error);
    CHECK(outcome.err.find("did you mean 'phthalo-blue-green-shade'?") != std::string::npos);
    request.parts = {"titanium-white=50%", "carbon-black=10%"};
    outcome = test::run(app::mix, request);
    CHECK(outcome.exit == app::Exit::data_error);
    CHECK(outcome.err.find("add up to 60 %") != std::string::npos);
    request.parts = {"reducer-medium"};
    outcome = test::run(app::mix, request);
    CHECK(outcome.exit == app::Exit::data_error);
    app::LadderRequest none;
    none.parts = {"titanium-white"};
    CHECK(test::run(app::ladder, none).exit == app::Exit::usage_error);
    none.extend_steps = "0,1";
    none.coats_steps = "1,2";
    CHECK(test::run(app::ladder, none).exit == app::Exit::usage_error);
}
